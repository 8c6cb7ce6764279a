// The tell-tales a person would cut, what each answers to, what is seen of it, and where it stands before a
// vent.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "solver/experiment/outside_air.hpp"
#include "solver/physics/tell_tale.hpp"

namespace tuft::experiment {

/// One tell-tale as hung.
struct NamedTellTale {
  std::string name;   ///< for people and files: "tissue-60"
  std::string words;  ///< "tissue strip 10 x 60 mm, free hinge"
  physics::TellTale body;
  std::string mind;       ///< what the model does not say of it; empty: nothing
  bool advised = true;    ///< false: shown, never recommended (wrapping film charges itself and sticks)
  bool own_hinge = true;  ///< can hang; a clamped one can also be held out level
};

/// Looked at from a distance [m], as wide as it is.
physics::Viewing viewing_of(const NamedTellTale& cut, double eye = 0.6, bool hand_held = false);

/// How it is used: hung on a frame before an upright vent, or held out level over one that faces up or down.
enum class Attitude { hanging, level };

/// The kit, in a fixed order: strips of tissue and copy paper, threads and yarns, film, a feather.
const std::vector<NamedTellTale>& tell_tale_kit();
/// The one of that name, or nullptr.
const NamedTellTale* find_tell_tale(const std::string& name);

/// Air that a response is computed for.
struct RoomAir {
  double density = 1.2, viscosity = 1.5e-5;  ///< [kg/m3], [m2/s] kinematic
};

/// What a tell-tale does in even air of any speed along its facing: bent once at some twenty speeds, then
/// read off. Lean [m] along the facing (the vent's outward normal).
class Response {
 public:
  /// `up`: level only, +1 over a vent that faces up, -1 below one that faces down.
  Response(const NamedTellTale& cut, Attitude attitude, double up, const RoomAir& air);

  /// Signed lean [m] in an even speed [m/s] along the facing; the last computed one beyond the table.
  double lean(double speed) const;
  /// Speeds [m/s] up to which a state of rest was found; beyond it moves all the time.
  double quiet_up_to() const { return speeds_.back(); }

 private:
  std::vector<double> speeds_;  ///< rising, symmetric about 0
  std::vector<double> leans_;
};

/// Weights of a speed at a share s in 0 .. 1 of the length in what moves the tip: the lever s on a hinge, s
/// squared where clamped (small lean, derived: the tip of a beam under a load at s moves by s^2 (3 - s)/6).
double tip_weight(const NamedTellTale& cut, double share);

/// One line of the ranking.
struct Ranked {
  const NamedTellTale* cut = nullptr;
  std::optional<double> hardly, clearly;  ///< least even speed that is seen, hung [m/s]
  std::optional<double> by_hand;          ///< least that is clearly seen, hand-held [m/s]
  physics::FlutterSpeed flutter;          ///< [m/s]
};

/// The kit hung upright, the one that shows the slowest air first (clearly seen; ties by name).
std::vector<Ranked> ranking(const RoomAir& air);

/// Which part of a vent's face: a tall opening may blow above and draw below.
enum class Part { middle, upper, lower };

/// How the vent's outward normal stands to gravity.
struct Mounting {
  Attitude attitude = Attitude::hanging;
  double up = 0.0;  ///< normal times up, -1 .. 1
};
/// Hanging where the normal is within 45 degrees of level (judgement), else held out level.
Mounting mounting_of(geometry::Face face, const Vec3& gravity);

/// A place [m] at a distance [m] before a vent's middle, or before the middle of the upper or lower quarter
/// of its height along gravity (the middle again where it has none).
Vec3 place_before(const geometry::Vent& vent, const Vec3& gravity, double distance, Part part);

/// How a tell-tale is held so that its lower third (its middle, if level) is at a place.
physics::Hanging hang(const NamedTellTale& cut, geometry::Face face, const OutsideAir& air,
                      const Vec3& place);

/// Even speed [m/s] along the facing that moves the tip as the air around it does: the mean of u|u| over the
/// undeflected tell-tale with the weights of `tip_weight` (derived for drag that goes with the square and
/// small leans; docs/theory.md, I21).
double even_speed(const NamedTellTale& cut, const physics::Hanging& hanging, const physics::AirVelocity& air);
double even_speed(const NamedTellTale& cut, const physics::Hanging& hanging, const OutsideAir& air);

}  // namespace tuft::experiment
