// Looking at a vent with a tell-tale: what would be noted, and whether it is so in use; one vent at the bench
// beside the same vent in use.
#pragma once

#include <memory>
#include <vector>

#include "solver/experiment/bench_report.hpp"
#include "solver/experiment/outside_air.hpp"

namespace tuft::experiment {

/// Responses of the kit in one room's air, made when first asked for. Not to be asked from two threads before
/// `prepare`.
class Responses {
 public:
  explicit Responses(const RoomAir& air) : air_(air), made_(3 * tell_tale_kit().size()) {}

  /// Bends everything that vents of these stances need, on all cores.
  void prepare(const std::vector<Mounting>& mountings);
  /// The response of a tell-tale before a vent; nullptr if it can't be held there or was not prepared.
  const Response* of(const NamedTellTale& cut, const Mounting& mounting) const;

 private:
  static std::size_t slot(std::size_t cut, const Mounting& mounting);
  RoomAir air_;
  std::vector<std::shared_ptr<const Response>> made_;
};

/// Distance before a vent at which the bench looks unless it seeks a better one [m].
constexpr double kUsualDistance = 0.02;

/// The parts of a vent that have to be looked at: upper and lower where it breathes both ways over a height,
/// here or in use; else its middle.
std::vector<Part> parts_of(const geometry::Vent& vent, const Vec3& gravity, geometry::Role here,
                           geometry::Role in_use);

/// One look with one tell-tale at the parts of a vent.
struct LookAt {
  const NamedTellTale* cut = nullptr;
  double distance = kUsualDistance;
  std::vector<Part> parts;
  std::vector<double> speeds, leans;  ///< one a part [m/s], [m]
  std::vector<double> by_law;         ///< speeds by the laws of near-vent air; others where a section is read
  std::vector<bool> by_section;
  std::vector<LeanChances> chances;  ///< one a part
  double right = 0.0, wrong = 0.0;   ///< chance of the answer that is so in use; of another direction
  bool flutters = false;             ///< it does not hang quiet at one of the parts
};

/// True if a tell-tale flutters in an even speed [m/s]: it has no rest there, or the air is faster than its
/// flutter threshold.
bool flutters_at(const NamedTellTale& cut, const Response& response, double speed);

/// Chance of a wrong direction from which a look counts as misleading, and of the right answer from which it
/// counts as showing what is so (judgements).
constexpr double kMisleadsFrom = 0.2, kShowsFrom = 0.5;

/// Looks at a vent that can be reached; no chances if the tell-tale can't be held there. With a section of
/// this condition, what it cuts is read off it.
LookAt look_at(const geometry::Case& content, const study::ConditionResult& result, const OutsideAir& air,
               const Responses& responses, const NamedTellTale& cut, const Probe& probe,
               const std::vector<Part>& parts, geometry::Role in_use, const SectionAir* section = nullptr);

/// Chances of the right answer and of a wrong direction, given what each part shows. One direction: the worst
/// part counts, as a person looks at one of them. Both ways: the two parts must differ.
double right_chance(geometry::Role in_use, const std::vector<LeanChances>& parts);
double wrong_chance(geometry::Role in_use, const std::vector<LeanChances>& parts);

/// What a person would conclude.
Finding finding_of(double right, double wrong);

/// True if nothing can be held at this distance before the vent: it is shut, or lies on something.
bool out_of_reach(const study::VentResult& vent, double distance);

/// The solved conditions that a vent is looked at in.
struct Scene {
  const geometry::Case& content;
  const study::ConditionResult& use;
  const study::ConditionResult& bench;
  const study::ConditionResult& cold;    ///< bench without load, fans as at the bench
  const study::ConditionResult& forced;  ///< bench without load, fans at full speed
  const OutsideAir& air;                 ///< around the device at the bench
  const Responses& responses;
  const SectionAir* section = nullptr;  ///< at the bench, where one was run
};

/// Everything about one vent but its traps and what an instrument does to its flow.
VentSummary vent_view(const Scene& scene, const study::VentChange& change);

/// Which head (or what stands before the vent) changed most from use to bench; the rule of `study::compare`.
Cause cause_of(const study::VentResult& use, const study::VentResult& bench);

/// What would mislead there, each with its numbers.
std::vector<Pitfall> pitfalls_of(const Scene& scene, const VentSummary& view);

/// Air along the outward normal of a vent's middle at distances [m] as a section has it, those left out that
/// lie in something; `upwards` counts what of gravity lies in the plane. Empty if the plane does not cut the
/// vent.
std::vector<AirPoint> air_in_section(const SectionAir& air, const geometry::Vent& vent, int index,
                                     const Vec3& gravity, const std::vector<double>& distances);

/// Anemometers right before a vent, with the flow solved anew behind each vane.
std::vector<InstrumentView> instruments_at(const Scene& scene, int vent);

}  // namespace tuft::experiment
