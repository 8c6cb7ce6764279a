// Points of air that follow the flow of a solved field, as a sequence of maps that can be played in a loop.
#pragma once

#include <stdexcept>
#include <string>
#include <vector>

#include "solver/flow2d/tracks.hpp"
#include "tools/figure/field_map.hpp"
#include "tools/io/field_run.hpp"

namespace tuft::io {

/// A field in which no air comes in.
class NothingFlows : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// How a film is made.
struct FilmOptions {
  int frames = 96;      ///< of one loop, >= 2
  int per_second = 24;  ///< frames that are played in a second
  int points = 320;     ///< about so many are to be seen at once
};

/// How many times slower than the device a film runs: 1, 2 or 5 times a power of ten, so that air which stays
/// `stay` seconds on average is to be seen for about four. Below 1 it runs faster.
double slowing(double stay);

/// "slowed 10 times", "in real time", "2 times as fast as in reality".
std::string slowing_words(double slowed);

/// The air of the first layer inside: points come in by the vents in proportion to what each takes in, pass
/// fans and passages, and leave by the vents. One map a frame. The steady flow is looped: what the last frame
/// would be followed by is the first. Throws NothingFlows.
std::vector<figure::FieldMap> tracer_maps(const FieldRun& field, const FilmOptions& options = {});

/// The same in the section, half of the points out of the device's outlets and half with the room's air. The
/// field holds a usable section.
std::vector<figure::FieldMap> section_tracer_maps(const FieldRun& field, const FilmOptions& options = {});

/// A particle to be seen at a moment: where, how old, and where it has just been, oldest first.
struct SeenPoint {
  double x = 0.0, y = 0.0, age = 0.0;  ///< [m], [s]
  std::vector<figure::Place> tail;
};

/// Where a particle is at an age, if it is in that grid then; its tail is `tail` seconds long at most and
/// ends where it came through a gate.
std::vector<SeenPoint> seen_points(const std::vector<flow2d::Track>& tracks, int grid, double period,
                                   double time, double tail);

/// Leaves out the points whose air is slower than `slowest` [m/s], told from a tail of `tail` seconds. A
/// loop's points follow each other in a period, so in slow air they would stand bead to bead and hide what
/// moves.
void leave_out_slow(std::vector<SeenPoint>& points, double slowest, double tail);

}  // namespace tuft::io
