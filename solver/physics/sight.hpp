// What a person sees of a tell-tale, and the least air that shows.
#pragma once

#include <optional>

#include "solver/physics/tell_tale.hpp"

namespace tuft::instruments {

/// What a person says of it.
enum class Seen {
  Clearly,  ///< moves clearly
  Hardly,   ///< moves a little, or perhaps
  Not       ///< does not move
};

/// Who looks, and from where.
struct Viewing {
  double distance = 0.6;   ///< eye to tip [m], > 0; arm's length
  bool hand_held = false;  ///< held in the fingers, which tremble, instead of hung on a frame
  double width = 0.0;      ///< of the strip or thread, across the line of sight [m]; 0: wide enough
};

/// Share of its contrast [-], 0..1, that a width [m] > 0 keeps at a distance [m] > 0: all if it is seen under
/// an angle of a minute of arc (0.17 mm at arm's length), else its angle over that, as the eye spreads it so
/// wide. A minute is what the average eye just resolves: Merriam-Webster's Medical Dictionary, "visual
/// acuity" (two lines just seen as separate). That contrast is lost in that ratio: judgement. docs/theory.md,
/// I12.
double contrast_kept(double width, double distance);

/// Travel of the tip [m] at which half the people would say "hardly" instead of "not", and "clearly" instead
/// of "hardly": 5 and 17 mrad of the eye's angle, 3 and 10 mm at arm's length; three times that for a
/// hand-held strip, whose own tremble is of that size. What is finer than the eye resolves has to move
/// further, in the ratio in which it loses contrast (`contrast_kept`). Judgement, no source; one person's
/// threshold lies within a factor of 2 of it (95 %). docs/theory.md, I12.
struct SightThresholds {
  double hardly = 0.0;   ///< [m]
  double clearly = 0.0;  ///< [m]
};
SightThresholds sight_thresholds(const Viewing& viewing);

/// What is seen of a travel of the tip [m] >= 0, and how likely each answer is (sum 1).
struct Sight {
  Seen seen = Seen::Not;  ///< by the nominal thresholds
  double clearly = 0.0;
  double hardly = 0.0;
  double not_at_all = 1.0;
};
Sight look(double travel, const Viewing& viewing);

/// Least even speed [m/s] along the tell-tale's facing at which it moves so far that it is seen (Hardly) or
/// clearly seen, given its own width instead of that of `viewing`; empty if 30 m/s does not do it. The tip's
/// travel is taken to grow with the speed; one that finds no state of rest moves all the time, and is seen.
/// Throws for Seen::Not.
std::optional<double> smallest_speed(const TellTale& tell_tale, const Hanging& hanging,
                                     const Viewing& viewing, Seen wanted);

}  // namespace tuft::instruments
