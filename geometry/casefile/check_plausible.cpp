// What a file may say, but hardly means: sizes and powers far from those of small electronics, and things
// that stick out or lie within one another. Each is a warning that says what would be usual; `expected`
// confirms it.
#include <fmt/core.h>

#include <algorithm>
#include <set>

#include "geometry/casefile/boxes.hpp"
#include "geometry/casefile/nearest.hpp"
#include "geometry/casefile/reader.hpp"
#include "geometry/device/pi.hpp"

namespace tuft::casefile {
namespace {

using geometry::PlaceKind;
using geometry::Vec3;

// What is usual. All of it judgement: wide enough for every device that the program is meant for, and narrow
// enough that a value ten times too large or too small is mostly noticed.
constexpr double kShortestDevice = 0.04, kLongestDevice = 1.0;  // longest side [m]
constexpr double kLeastPower = 0.1;                             // of the largest load [W]
constexpr double kMostPowerDensity = 300e3;                     // of the largest load, over the volume [W/m3]
constexpr double kSlowestTip = 2.0, kFastestTip = 60.0;         // of an impeller at full speed [m/s]
constexpr double kSlack = 2e-3;       // by which a place read off with a ruler may be wrong [m]
constexpr double kMostOverlap = 0.2;  // of the smaller of two boxes [-]

// A box that something takes up.
struct Box {
  Vec3 low, high;
  double volume() const { return (high - low).prod(); }
};

Box box_of(const Vec3& centre, const Vec3& extents) {
  return {centre - 0.5 * extents, centre + 0.5 * extents};
}

double shared_volume(const Box& a, const Box& b) {
  return (a.high.cwiseMin(b.high) - a.low.cwiseMax(b.low)).cwiseMax(0.0).prod();
}

// A fan's impeller, or a stack of fins.
struct Body {
  std::string what;
  Item item;
  Vec3 centre, extents;
  bool is_placed;
  Box box() const { return box_of(centre, extents); }
};

std::string lengths(const Vec3& extents) {
  const auto length = [](double x) { return write_quantity(geometry::Value(x), "mm"); };
  return fmt::format("{} x {} x {}", length(extents.x()), length(extents.y()), length(extents.z()));
}

class Plausibility {
 public:
  Plausibility(Reader& reader, const Item& root) : reader_(reader), device_(reader.device()), root_(root) {
    const Item list = Reader::child(root, "expected");
    if (list) read_expected(list);
  }

  void check() {
    check_size();
    check_powers();
    check_tips();
    check_passages();
    check_heat_of_fins();
    const std::vector<Body> bodies = all_bodies();
    for (const Body& body : bodies) check_inside(body);
    check_apart(bodies);
    tell_of_unused();
  }

 private:
  void read_expected(const Item& list) {
    for (const Item& item : reader_.items(list)) {
      if (item.node->kind != Node::Kind::text) {
        reader_.error(item, fmt::format("expected a key path, found {}", describe(*item.node)));
        continue;
      }
      expected_.push_back(item);
      reader_.file.expected.push_back(item.node->text);
    }
  }

  bool is_expected(const std::string& path) {
    used_.insert(path);
    return contains(reader_.file.expected, path);
  }

  void tell(const Item& item, const std::string& path, const std::string& message, const std::string& usual) {
    if (is_expected(path)) return;
    reader_.report.warning(item.key_spot, path, message,
                           fmt::format("{}; if it is so, write `expected: [{}]`", usual, path));
  }

  // What is hot or cold is known only when it is solved: a source may be named for that.
  void tell_of_unused() {
    for (const Item& item : expected_) {
      const std::string& path = item.node->text;
      if (used_.count(path) > 0) continue;
      const bool source =
          path.compare(0, 8, "sources.") == 0 && reader_.names["sources"].find(path.substr(8)) >= 0;
      if (!source)
        reader_.warning(item, fmt::format("{} is not unusual here", in_quotes(path)), "take it out");
    }
  }

  void check_size() {
    const double longest = device_.size.maxCoeff();
    if (longest >= kShortestDevice && longest <= kLongestDevice) return;
    const Item item = Reader::child(Reader::child(root_, "device"), "size");
    tell(item, "device.size",
         fmt::format("a device whose longest side is {} is unusual", write_quantity(longest, "mm")),
         "from 40 mm to 1000 mm would be usual; check the unit and the decimal point");
  }

  void check_powers() {
    double most = 0.0;
    Item where;
    const Item loads = Reader::child(root_, "loads");
    for (const geometry::Load& load : reader_.content().loads) {
      double sum = 0.0;
      for (const geometry::SourcePower& power : load.powers) sum += *power.power;
      if (sum <= most) continue;
      most = sum;
      where = Reader::child(loads, load.name);
    }
    if (!where || most <= 0.0) return;
    const std::string path = where.path + ".power";
    const double density = most / device_.size.prod();
    if (most < kLeastPower)
      tell(where, path, fmt::format("the largest load gives {} in all", write_quantity(most, "mW")),
           "more than 0.1 W would be usual; check the unit (mW or W)");
    else if (density > kMostPowerDensity)
      tell(where, path,
           fmt::format("{} in all in a chassis of {} is {:.3g} W a litre", write_quantity(most, "W"),
                       lengths(device_.size), density * 1e-3),
           "up to 100 W a litre would be usual; check the powers and the size");
  }

  void check_tips() {
    const Names& names = reader_.names["fans"];
    for (std::size_t f = 0; f < names.all.size(); ++f) {
      const geometry::Fan& fan = device_.fans[f];
      if (!fan.curve.empty()) continue;
      const double tip = geometry::kPi * *fan.diameter * *fan.speed;
      if (tip >= kSlowestTip && tip <= kFastestTip) continue;
      tell(names.items[f], "fans." + fan.name + ".speed",
           fmt::format("the tips of an impeller of {} at {} move at {:.3g} m/s",
                       write_quantity(*fan.diameter, "mm"), write_quantity(*fan.speed, "rpm"), tip),
           "2 m/s to 60 m/s would be usual; check the diameter and the speed");
    }
  }

  void check_passages() {
    const Names& names = reader_.names["passages"];
    const double diagonal = device_.size.norm();
    for (std::size_t p = 0; p < names.all.size(); ++p) {
      const geometry::Passage& passage = device_.passages[p];
      if (*passage.length <= diagonal) continue;
      tell(names.items[p], "passages." + passage.name + ".length",
           fmt::format("a passage of {} is longer than the chassis, whose diagonal is {}",
                       write_quantity(*passage.length, "mm"), write_quantity(diagonal, "mm")),
           "a shorter one would be usual; check the unit");
    }
  }

  // All heat goes into fins that leave by vents, and as fixed shares: nothing warms the air inside.
  void check_heat_of_fins() {
    if (device_.sources.empty()) return;
    for (const geometry::Source& source : device_.sources) {
      if (!source.joints.empty() || source.shares.empty()) return;
      for (const geometry::HeatShare& share : source.shares) {
        const bool leaves =
            share.into.kind == PlaceKind::fins && at(device_.fin_stacks, share.into.index).exit_zone < 0;
        if (!leaves && *share.share > 0.0) return;
      }
    }
    const Item& item = reader_.names["sources"].items[0];
    tell(item, "sources." + device_.sources[0].name + ".heats",
         "all heat leaves by fins, so that the air inside and the skin stay at the room's temperature",
         fmt::format(
             "a few per cent in the air around the chip would be usual: heats: {{{}: 5..10..20 %, ...}}, "
             "or `joins`",
             device_.zones.empty() ? "inside" : device_.zones[0].name));
  }

  std::vector<Body> all_bodies() {
    std::vector<Body> out;
    for (std::size_t f = 0; f < reader_.names["fans"].all.size(); ++f) {
      const geometry::Fan& fan = device_.fans[f];
      const Vec3 axis = geometry::fan_axis(fan, device_);
      const Vec3 extents = axis * *fan.thickness + (Vec3::Ones() - axis) * *fan.diameter;
      out.push_back({"fans." + fan.name, reader_.names["fans"].items[f], fan.centre, extents, fan.is_placed});
    }
    for (std::size_t s = 0; s < reader_.names["fins"].all.size(); ++s) {
      const geometry::FinStack& fins = device_.fin_stacks[s];
      out.push_back({"fins." + fins.name, reader_.names["fins"].items[s], fins.centre,
                     geometry::fin_extents(device_, s), fins.is_placed});
    }
    return out;
  }

  // Of a thing without a place only its size can be too large; an assumed height is nobody's fault.
  void check_inside(const Body& body) {
    const Box box = body.box();
    double beyond = 0.0;
    for (int axis = 0; axis < 3; ++axis) {
      beyond = std::max(beyond, body.extents[axis] - device_.size[axis]);
      const bool height = axis == 2 && !Reader::child(body.item, "at");
      if (!body.is_placed || height) continue;
      beyond = std::max({beyond, -box.low[axis], box.high[axis] - device_.size[axis]});
    }
    if (beyond <= kSlack) return;
    tell(body.item, body.what,
         fmt::format("takes up {} and sticks out of the chassis of {} by {}", lengths(body.extents),
                     lengths(device_.size), write_quantity(beyond, "mm")),
         "it would lie inside; check its sizes and its place");
  }

  // Each body is told of once, with the first that it lies within.
  void check_apart(const std::vector<Body>& bodies) {
    for (std::size_t b = 1; b < bodies.size(); ++b) {
      const auto last = bodies.begin() + static_cast<std::ptrdiff_t>(b);
      const auto other =
          std::find_if(bodies.begin(), last, [&](const Body& each) { return lie_within(each, bodies[b]); });
      if (other == last) continue;
      tell(bodies[b].item, bodies[b].what, fmt::format("lies within {}", other->what),
           bodies[b].is_placed ? "apart would be usual; check the two places"
                               : "neither has a place, and both were put at the same one; write `at` or "
                                 "distances to edges");
    }
  }

  // Where only one has a place the other is anywhere; where neither has, only one and the same place tells.
  static bool lie_within(const Body& a, const Body& b) {
    if (a.is_placed != b.is_placed || (!a.is_placed && !is_same_place(a, b))) return false;
    const double smaller = std::min(a.box().volume(), b.box().volume());
    return smaller > 0.0 && shared_volume(a.box(), b.box()) > kMostOverlap * smaller;
  }

  static bool is_same_place(const Body& a, const Body& b) { return (a.centre - b.centre).norm() < 1e-3; }

  Reader& reader_;
  const geometry::Device& device_;
  const Item root_;
  std::vector<Item> expected_;
  std::set<std::string> used_;  // paths of what is unusual, confirmed or not
};

}  // namespace

void check_plausible(Reader& reader, const Item& root) {
  Plausibility plausibility(reader, root);
  if (!reader.report.has_errors()) plausibility.check();
}

}  // namespace tuft::casefile
