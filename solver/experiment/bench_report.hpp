// A bench measurement judged before it is made: the question, and what is known, as finished plain data.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "solver/experiment/expected_reading.hpp"
#include "solver/flow2d/section_plane.hpp"
#include "solver/flow2d/section_result.hpp"
#include "solver/numerics/constants.hpp"
#include "solver/study/predict.hpp"

namespace tuft::experiment {

/// Air at one distance before a vent.
struct AirPoint {
  double distance = 0.0;     ///< [m]
  double outwards = 0.0;     ///< speed along the outward normal, + away from the device [m/s]
  double speed = 0.0;        ///< [m/s]
  double upwards = 0.0;      ///< speed against gravity [m/s]
  double temperature = 0.0;  ///< [K]
};

/// What one tell-tale would show before one vent, hung on a frame and hand-held.
struct TellTaleView {
  const NamedTellTale* cut = nullptr;
  Part part = Part::middle;
  bool usable = true;       ///< false: depends on a hinge and can't be held level over this vent
  double speed = 0.0;       ///< even speed that moves it as the air there does, + away from the device [m/s]
  double by_law = 0.0;      ///< the same by the laws of near-vent air [m/s]; other than `speed` only if
  bool by_section = false;  ///< `speed` was read off a section
  double lean = 0.0;        ///< [m], + away from the device
  physics::Seen seen = physics::Seen::not_at_all;  ///< hung, at arm's length, in quiet air
  double over = 0.0;       ///< its lean over what is just seen of its width, hung, at arm's length [-], >= 0
  LeanChances hung, held;  ///< what a person would say
  bool flutters = false;   ///< it moves all the time, or the air is faster than the flutter threshold
};

/// A tell-tale bent in the real field, for a figure.
struct Bent {
  const NamedTellTale* cut = nullptr;
  int vent = 0;
  Part part = Part::middle;
  std::vector<Vec3> still, shape;  ///< from hold to tip in still air and as blown, device frame [m]
  double lean = 0.0;               ///< of the tip, + away from the device [m]
  physics::Seen seen = physics::Seen::not_at_all;
};

/// A disturber beside the vent's own air.
struct DisturberView {
  std::string name;
  double low = 0.0, nominal = 0.0, high = 0.0;  ///< [m/s]
  double signal_over = 0.0;                     ///< the vent's air over its upper end [-]
  std::string source;
};

/// What an instrument would show right at a vent, and what it does to it.
struct InstrumentView {
  std::string name;
  ExpectedReading reading;    ///< as if it stood in nobody's way [m/s]
  double flow_left = 1.0;     ///< larger gross flow with it held before the vent, over that without [-]
  bool solved = false;        ///< that flow was found
  bool role_changes = false;  ///< with it held there the vent's role is another
};

/// What stands behind the difference between two conditions at a vent.
enum class Cause { none, front, fans, buoyancy, buoyancy_in_height };

/// Why a measurement would mislead.
enum class TrapKind {
  wrong_sign,    ///< it shows what is not so in use
  buoyancy,      ///< buoyancy is the cause, not the fans
  two_ways,      ///< two answers at one opening
  weak,          ///< slower than what disturbs it
  stiff,         ///< the usual strips hang still where light ones answer
  touch,         ///< a hand feels something, or nothing, that is not so in use
  out_of_reach,  ///< it lies on something
  infrared       ///< infrared sees surfaces
};
struct Pitfall {
  TrapKind kind = TrapKind::weak;
  std::string text;  ///< one sentence with the numbers, the vent's name left out
};

/// What a person who does as the set-up says would note.
enum class Finding {
  right,    ///< what is so in use: more likely than not, and a wrong direction in less than a fifth
  nothing,  ///< that nothing moves, where something does
  wrong,    ///< another direction than in use, with a chance of a fifth or more
  no_reach  ///< nothing can be held before it
};

/// One vent, bench against use.
struct VentSummary {
  int vent = 0;
  study::VentChange change;  ///< from use to bench
  Cause cause = Cause::none;
  double net_use = 0.0, net_bench = 0.0;  ///< + into the device [kg/s]
  geometry::Role cold_role = geometry::Role::idle, forced_role = geometry::Role::idle;
  double net_cold = 0.0, net_forced = 0.0;  ///< same pose, no load: fans as at the bench, and at full speed
  std::vector<AirPoint> air;                ///< at the bench; empty out of reach
  std::vector<AirPoint> air_in_section;     ///< the same read off the section, where it cuts the vent
  std::vector<TellTaleView> tell_tales;     ///< in the kit's order; parts of a tall two-way opening apart
  std::vector<DisturberView> disturbers;
  std::vector<InstrumentView> instruments;
  ExpectedReading hand;                             ///< a palm before it
  Finding by_hand = Finding::nothing;               ///< copy-paper strip in the fingers, as people do
  Finding at_best = Finding::nothing;               ///< best tell-tale, hung, in the bench condition
  double right_by_hand = 0.0, right_at_best = 0.0;  ///< chance of the answer that is so in use
  std::vector<Pitfall> pitfalls;
};

/// How to look at one vent so that what is seen is true.
struct SetUpVent {
  int vent = 0;
  const NamedTellTale* cut = nullptr;          ///< nullptr: no tell-tale shows it in this set-up
  double distance = 0.0;                       ///< [m]
  double right = 0.0;                          ///< chance of the answer that is so in use
  double wrong = 0.0;                          ///< chance of a wrong direction
  double signal = 0.0;                         ///< even speed at it, + away from the device [m/s]
  double lean = 0.0;                           ///< [m], + away from the device
  bool all_flutter = false;                    ///< no tell-tale, since all that can be held there flutter
  bool both_parts = false;                     ///< look before its upper and its lower part
  geometry::Role role = geometry::Role::idle;  ///< in the set-up
};

/// A set-up found among computed candidates.
struct SetUp {
  int condition = -1;  ///< index into Report::content.conditions; -1: none
  std::string why;     ///< how it came to win: one sentence
  std::vector<SetUpVent> vents;
  double score = 0.0;  ///< mean chance of the right answer over the vents asked for
  bool cold = false;   ///< no load: nothing has to soak, but what is hot must cool
  bool wait_known = false;
  double wait = 0.0;       ///< from the use condition's warmth to where every temperature and flow stays [s]
  double wait_flow = 0.0;  ///< to where every flow stays [s]
  double breath_from = 0.0;  ///< distance from which breath is slower than a third of the weakest signal; 0:
                             ///< from nowhere nearer than where breath ends [m]
};

/// A change of role on the way from one pose to another.
struct Turning {
  int vent = 0;
  geometry::Role from = geometry::Role::idle, to = geometry::Role::idle;
  double low = 0.0, high = 0.0;  ///< angles between which it changes [rad]
};
struct PoseSweep {
  Vec3 axis = Vec3::UnitX();                       ///< in the world
  std::vector<double> angles;                      ///< [rad]
  std::vector<std::vector<geometry::Role>> roles;  ///< [angle][vent]
  std::vector<bool> solved;
  std::vector<Turning> role_changes;
};

/// What a cord that tilts the pose does to a vent: worst of four ways to tilt it.
struct TiltError {
  int vent = 0;
  double change = 0.0;  ///< of the net flow, over the larger gross flow as posed [-]
  bool role_changes = false;
  double signal_over = 0.0;  ///< the larger gross flow over that change [-]
};
constexpr double kTiltError = 10.0 * numerics::kDegree;  ///< [rad], as a stiff cord does; judgement

/// A claim judged in use, and what somebody would conclude from the bench.
struct ClaimView {
  int claim = 0;
  study::ClaimResult in_use, at_bench;
};

/// A spot of the infrared thermometer.
struct SpotView {
  std::string name;
  std::string on;
  ExpectedReading reading;  ///< [K]
  double truth = 0.0;       ///< temperature of what it is pointed at [K]
};

/// The section that near-vent air was read off.
struct SectionUsed {
  flow2d::Plane plane;
  std::string why, how;  ///< why it lies there, how its solution went
};

struct Report {
  geometry::Case content;  ///< the case with every condition that was made up for the bench
  int bench = 0, use = 0;  ///< indices into content.conditions
  int claim = -1;
  int cold = -1, forced = -1;  ///< the bench without load: fans as they were, fans at full speed
  study::ConditionResult bench_result, use_result, cold_result, forced_result;
  std::vector<VentSummary> vents;  ///< leaks left out
  std::vector<int> asked;          ///< vents the set-up is for
  SetUp common;                    ///< one set-up for all of them
  std::vector<SetUp> apart;        ///< better ones for single vents, where the common one fails
  int candidates = 0;              ///< how many conditions were tried
  double bench_right = 0.0;        ///< what `common` is set against: mean chance of the right answer over the
                                   ///< vents asked for with the device as at the bench, looked at as well
  std::vector<Ranked> ranking;
  PoseSweep sweep;
  std::vector<TiltError> tilt_error;  ///< of the bench pose; leaks left out
  std::vector<ClaimView> claims;
  std::vector<SpotView> spots;
  std::optional<SectionUsed> section;      ///< of the bench condition
  std::vector<Bent> bent_bench, bent_use;  ///< the figure's strips
};

/// What is asked.
struct Question {
  int bench = 0;   ///< the condition one would measure in
  int use = 0;     ///< the condition that is spoken of
  int claim = -1;  ///< the claim to be shown, if one is; its vents are asked for, else (or if it names none)
                   ///< all but leaks
  std::vector<geometry::Spot> spots;  ///< of the infrared thermometer; none: every patch of skin
  /// Of the bench condition, usable: what it cuts is read off it. nullptr: all air by the laws.
  const flow2d::SectionResult* section = nullptr;
};

/// Which of the conditions a report rests on has no solution.
struct Unsolved {
  std::string condition, reason;
};

/// Everything the bench says of a case; `unsolved` is set, and nothing else, if the bench or the use
/// condition has no solution. Never throws for a well-read case. @pre indices within the case.
Report judge_bench(const geometry::Case& content, const Question& question,
                   std::optional<Unsolved>& unsolved);

}  // namespace tuft::experiment
