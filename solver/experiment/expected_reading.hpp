// What an instrument is expected to show in a solved condition, with its error model. Predicting what a
// person will see and learning from what was seen both go through here: one model, two directions.
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "geometry/device/device.hpp"
#include "solver/experiment/tell_tales.hpp"

namespace tuft::experiment {

enum class Instrument {
  tell_tale,     ///< strip, thread: leans in, out, or hangs still. `tool`: a name of `kit()`
  hand,          ///< a palm before the vent: feels a draught or warmth, no sign
  anemometer,    ///< [m/s] before a vent. `tool`: a name of physics::anemometers()
  fan_speed,     ///< [rev/s] as the device tells it. `place`: fan_inlet or fan_outlet, index of the fan
  chip_sensor,   ///< [K] of a source or part, as the device tells it
  thermocouple,  ///< [K] taped to skin (`place`), or in the air before `vent`
  infrared,      ///< [K] of `spot`, else of skin (`place`); refused where it would lie
  ruler          ///< [m]; `length`
};

/// A millimetre scale read by eye [m]; a free area from counted and measured holes [-] (judgements).
constexpr double kRulerSigma = 0.3e-3, kCountSigma = 0.03;

/// Share of the notes on a strip that are wrong (judgement).
constexpr double kWrongNotes = 0.02;

/// One reading to be taken: what, with which tool, where.
struct Probe {
  Instrument instrument = Instrument::tell_tale;
  std::string tool;       ///< empty: "tissue-60" (level: "tissue-40-level"), "hot-wire"
  int vent = -1;          ///< index into Device::vents, where one is meant
  geometry::Place place;  ///< fan, source, part or skin, where one is meant; of a spot what that is on
  std::optional<geometry::Spot> spot;  ///< of the infrared thermometer
  double distance = 0.02;              ///< before the vent; of the infrared spot to its surface [m], > 0
  Part part = Part::middle;
  bool hand_held = false;  ///< in the fingers, which tremble; the person is near and breathes
  double eye = 0.6;        ///< eye to tip [m], > 0
  double length = 0.0;     ///< ruler: the length as the case has it [m]
};

/// What is expected. A tell-tale answers in words with probabilities, all else with a number. SI units.
struct ExpectedReading {
  bool possible = true;  ///< false: no such reading can be had, or it must not be known
  std::string reason;    ///< why not
  bool leans = false;    ///< in, out, still hold (they add to 1); else value, sigma
  double in = 0.0, out = 0.0, still = 1.0;
  double value = 0.0;  ///< mean of the readings that are taken; a tell-tale: its lean [m], + away from the
                       ///< device; a hand: change of the heat it loses [W/m2]
  double sigma = 0.0;  ///< standard deviation of a reading (a tell-tale: of its lean): instrument, near-air
                       ///< model, and the room's draught; not what the solved condition is unsure of
  double detection = 1.0;  ///< probability that there is a reading at all (the vane turns, the hand feels it)
  double signal = 0.0;     ///< speed along the vent's outward normal that it answers to [m/s]
};

/// One probe, ready to be asked for many solved conditions of the same pose and device: the tell-tale is bent
/// once here and read off there. Some 2 ms to make; an answer costs the air around the device.
class ReadingModel {
 public:
  /// `condition` of the case gives the pose. Throws std::invalid_argument for a tool or index that is not
  /// there, and for lengths that are not > 0.
  ReadingModel(const geometry::Case& content, int condition, const Probe& probe);

  /// What is expected in a solved condition (its pose as at the making). A condition without a solution, and
  /// a vent that lies on something, give `possible` false.
  ExpectedReading expect(const geometry::Case& content, const study::ConditionResult& result) const;
  /// The same with the air around the device at hand.
  ExpectedReading expect(const geometry::Case& content, const study::ConditionResult& result,
                         const OutsideAir& air) const;

  const Probe& probe() const { return probe_; }

 private:
  Probe probe_;
  const NamedTellTale* cut_ = nullptr;
  std::shared_ptr<const Response> response_;
};

/// What an infrared thermometer shows at a spot [K]; refused through glass, off bare metal, where the spot is
/// larger than its target, on what lies on something, or where the condition knows no temperature.
ExpectedReading spot_reading(const geometry::Case& content, const study::ConditionResult& result,
                             const geometry::Spot& spot);
/// Temperature [K] of what a spot is on; empty where the condition knows none.
std::optional<double> spot_temperature(const geometry::Case& content, const study::ConditionResult& result,
                                       const geometry::Spot& spot);

/// What a person says of a strip (docs/theory.md, I21). The air is uncertain by the room's draught (rms of
/// one component: that of the case's `room.draught.speed` over sqrt 3), hand-held by a quarter of the breath
/// that reaches it as well, and by the near-air model (jet: `jet_doubt`; intake 1.3); the lean is compared
/// with the threshold of sight, a factor of 2; two in a hundred notes are wrong (judgement).
struct LeanChances {
  double in = 0.0, out = 0.0, still = 1.0;
  double lean = 0.0, sigma = 0.0;  ///< mean and standard deviation of the lean [m]
};
LeanChances lean_chances(const Response& response, double speed, double speed_sigma,
                         const physics::Viewing& viewing);

/// Standard deviation [m/s] of the speed at a tell-tale before a vent that is not the vent's doing or not
/// known of it. `reynolds` of the vent's jet; 0: it draws.
double speed_sigma(double speed, double reynolds, const Probe& probe, const OutsideAir& air);

/// Reynolds number of a vent's jet on the root of its free area; 0 if it blows less than it draws.
double jet_reynolds(const geometry::Vent& vent, const study::VentResult& result, const OutsideAir& air);

/// What a palm of 33 C feels of air [W/m2]: change of the heat it loses against still air of the room, (3.5 +
/// 10 (v s/m)^(1/2)) W/(m2 K) times what the air is colder than it (judgement; docs/theory.md, I22). > 0:
/// feels cool. From 25 W/m2 half the people feel it (judgement, a factor of 2).
double hand_feels(double speed, double temperature, double room);

}  // namespace tuft::experiment
