#include "solver/flow2d/tracks.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <stdexcept>
#include <utility>

namespace tuft::flow2d {
namespace {

constexpr int kMostCells = 200000;  // a particle in an eddy goes round until its time is up, not for ever

/// Chances of one particle. The standard fixes this generator's numbers, but not those of its distributions.
class Chances {
 public:
  explicit Chances(int number) : generator_(0x7f4a7c15U + static_cast<unsigned long long>(number)) {}
  double share() { return static_cast<double>(generator_() >> 11U) * 0x1.0p-53; }  // 0 <= share < 1
  double lifetime() { return -std::log1p(-share()); }  // of a thing that ends at rate 1

 private:
  std::mt19937_64 generator_;
};

double between(const std::vector<double>& faces, int cell, double share) {
  const double low = faces[cell], high = faces[cell + 1];
  return low + share * (high - low);
}

/// One particle on its way.
class Particle {
 public:
  Particle(const TrackFlow& flow, int number, double longest)
      : flow_(flow), longest_(longest), chances_(number) {}

  Track follow(const TrackSource& source, double share) {
    track_.from = source.name;
    land(source.to, share);
    for (int cells = 0; cells < kMostCells && !done_; ++cells) go_on();
    return std::move(track_);
  }

 private:
  const FlowGrid& grid() const { return flow_.grids[at_.grid]; }

  void note(bool jumped) {
    track_.points.push_back(
        {at_.grid, between(grid().x, at_.i, x_), between(grid().y, at_.j, y_), age_, jumped});
  }

  // `share` of the whole says which of the landings.
  void land(const std::vector<Landing>& to, double share) {
    double sum = 0.0;
    for (const Landing& landing : to) sum += landing.share;
    double left = share * sum;
    std::size_t k = 0;
    while (k + 1 < to.size() && left >= to[k].share) left -= to[k++].share;
    at_ = to[k];
    x_ = chances_.share();
    y_ = chances_.share();
    if (at_.side == CellExit::left || at_.side == CellExit::right)
      x_ = at_.side == CellExit::right ? 1.0 : 0.0;
    if (at_.side == CellExit::bottom || at_.side == CellExit::top) y_ = at_.side == CellExit::top ? 1.0 : 0.0;
    fate_ = chances_.lifetime();
    note(true);
  }

  void finish(TrackEnd end, int name) {
    track_.end = end;
    track_.to = name;
    done_ = true;
  }

  void through(int number) {
    const Gate& gate = flow_.gates[number];
    if (gate.to.empty())
      finish(TrackEnd::gate, gate.name);
    else
      land(gate.to, chances_.share());
  }

  void go_on() {
    const FlowGrid& g = grid();
    const CellFlow cell{g.u(at_.i, at_.j), g.u(at_.i + 1, at_.j), g.v(at_.i, at_.j), g.v(at_.i, at_.j + 1),
                        g.mass(at_.i, at_.j)};
    const std::vector<Leak>& leaks = g.leaks(at_.i, at_.j);
    double leaking = 0.0;
    for (const Leak& leak : leaks) leaking += leak.flow;
    const double rate = leaking / cell.mass;
    const double left = longest_ - age_;
    const double until_leak = rate > 0.0 ? fate_ / rate : std::numeric_limits<double>::infinity();
    const CellPass pass = pass_cell(cell, x_, y_, std::min(left, until_leak));
    x_ = pass.x;
    y_ = pass.y;
    age_ += pass.time;
    fate_ -= rate * pass.time;
    note(false);
    if (pass.exit != CellExit::none)
      leave(pass.exit);
    else if (until_leak < left)
      leak(leaks, leaking);
    else
      finish(TrackEnd::late, -1);
  }

  void leak(const std::vector<Leak>& leaks, double leaking) {
    double left = chances_.share() * leaking;
    std::size_t k = 0;
    while (k + 1 < leaks.size() && left >= leaks[k].flow) left -= leaks[k++].flow;
    through(leaks[k].gate);
  }

  void leave(CellExit exit) {
    const FlowGrid& g = grid();
    const bool across = exit == CellExit::left || exit == CellExit::right;
    const bool up = exit == CellExit::right || exit == CellExit::top;
    const int gate = across ? g.gate_u(at_.i + (up ? 1 : 0), at_.j) : g.gate_v(at_.i, at_.j + (up ? 1 : 0));
    if (gate >= 0) return through(gate);
    int& cell = across ? at_.i : at_.j;
    cell += up ? 1 : -1;
    if (cell < 0 || cell >= (across ? g.nx() : g.ny())) return finish(TrackEnd::rim, -1);
    (across ? x_ : y_) = up ? 0.0 : 1.0;
  }

  const TrackFlow& flow_;
  double longest_;
  Chances chances_;
  Track track_;
  Landing at_;
  double x_ = 0.0, y_ = 0.0, age_ = 0.0;
  double fate_ = 0.0;  ///< what is left of its life against leaks, in mean lives
  bool done_ = false;
};

constexpr double kNever = std::numeric_limits<double>::infinity();

// One axis of a cell: flow at its two ends, and the air in the cell.
struct Way {
  double low, high, mass;

  double flow(double at) const { return low + (high - low) * at; }

  // When a particle gets to the end it moves towards [s].
  double time_to_end(double at) const {
    const double here = flow(at), end = here > 0.0 ? high : low;
    if (here == 0.0 || !(end / here > 0.0)) return kNever;  // it turns, or comes to rest, before the face
    const double left = here > 0.0 ? 1.0 - at : at, change = end / here - 1.0;
    const double slowing = std::abs(change) < 1e-12 ? 1.0 : std::log1p(change) / change;
    return mass * left / std::abs(here) * slowing;
  }

  double after(double at, double time) const {
    const double growth = (high - low) / mass * time;
    const double stretch = std::abs(growth) < 1e-12 ? 1.0 : std::expm1(growth) / growth;
    return std::clamp(at + flow(at) / mass * time * stretch, 0.0, 1.0);
  }
};

}  // namespace

FlowGrid empty_grid(std::vector<double> x, std::vector<double> y) {
  FlowGrid grid;
  grid.x = std::move(x);
  grid.y = std::move(y);
  const int nx = grid.nx(), ny = grid.ny();
  grid.u = Array2(nx + 1, ny);
  grid.v = Array2(nx, ny + 1);
  grid.mass = Array2(nx, ny);
  grid.gate_u = Array2T<int>(nx + 1, ny, -1);
  grid.gate_v = Array2T<int>(nx, ny + 1, -1);
  grid.leaks = Array2T<std::vector<Leak>>(nx, ny);
  return grid;
}

std::vector<Track> follow_tracks(const TrackFlow& flow, int count, double longest) {
  if (count < 0 || !(longest > 0.0))
    throw std::invalid_argument("tracks: a count of " + std::to_string(count) +
                                " must be >= 0, a longest time of " + std::to_string(longest) + " s > 0");
  double sum = 0.0;
  for (const TrackSource& source : flow.sources) sum += source.flow;
  std::vector<Track> tracks;
  if (!(sum > 0.0)) return tracks;
  // Evenly through all the flow there is: every source gets its part, to within one particle.
  std::size_t s = 0;
  double before = 0.0;
  for (int k = 0; k < count; ++k) {
    const double at = (k + 0.5) / count * sum;
    while (s + 1 < flow.sources.size() && at >= before + flow.sources[s].flow)
      before += flow.sources[s++].flow;
    const double share = std::clamp((at - before) / flow.sources[s].flow, 0.0, 1.0);
    tracks.push_back(Particle(flow, k, longest).follow(flow.sources[s], share));
  }
  return tracks;
}

CellPass pass_cell(const CellFlow& flow, double x, double y, double most) {
  const Way across{flow.left, flow.right, flow.mass}, up{flow.bottom, flow.top, flow.mass};
  const double to_x = across.time_to_end(x), to_y = up.time_to_end(y);
  CellPass pass;
  pass.time = std::min({to_x, to_y, most});
  pass.x = across.after(x, pass.time);
  pass.y = up.after(y, pass.time);
  if (pass.time >= most) return pass;
  if (to_x <= to_y) {
    const bool right = across.flow(x) > 0.0;
    pass.exit = right ? CellExit::right : CellExit::left;
    pass.x = right ? 1.0 : 0.0;
  } else {
    const bool top = up.flow(y) > 0.0;
    pass.exit = top ? CellExit::top : CellExit::bottom;
    pass.y = top ? 1.0 : 0.0;
  }
  return pass;
}

}  // namespace tuft::flow2d
