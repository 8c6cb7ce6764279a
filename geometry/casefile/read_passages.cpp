// Section passages.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "geometry/casefile/boxes.hpp"
#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {
namespace {

using geometry::Passage;
using geometry::Vec3;
using geometry::Zone;

constexpr const char* kAxes[] = {"x", "y", "z"};

// Axis along which the centres lie farthest apart in units of the boxes' mean size: the boxes face each other
// there.
int facing_axis(const Zone& a, const Zone& b) {
  int best = 0;
  double farthest = -1.0;
  for (int axis = 0; axis < 3; ++axis) {
    const double mean = 0.5 * (a.size[axis] + b.size[axis]);
    const double apart = mean > 0.0 ? std::abs(a.centre[axis] - b.centre[axis]) / mean : 0.0;
    if (apart > farthest + 1e-9) {
      farthest = apart;
      best = axis;
    }
  }
  return best;
}

// What two boxes have in common across an axis: the wall between them, if they touch.
struct SharedWall {
  Vec3 centre = Vec3::Zero();
  Vec3 size = Vec3::Zero();  // 0 along the axis
  bool touch = false;
};
SharedWall shared_wall(const Zone& a, const Zone& b, int axis) {
  constexpr double wall = 3e-3;  // boxes drawn to either side of a rib still touch
  const Vec3 low = (a.centre - 0.5 * a.size).cwiseMax(b.centre - 0.5 * b.size);
  const Vec3 high = (a.centre + 0.5 * a.size).cwiseMin(b.centre + 0.5 * b.size);
  SharedWall out;
  out.centre = 0.5 * (low + high);
  out.size = (high - low).cwiseMax(0.0);
  out.size[axis] = 0.0;
  out.touch = std::abs(low[axis] - high[axis]) <= wall;
  for (int other = 0; other < 3; ++other)
    out.touch = out.touch && (other == axis || high[other] > low[other]);
  return out;
}

void place_passage(Reader& reader, const Item& item, Passage& passage) {
  const auto& zones = reader.device().zones;
  const Zone& a = zones[static_cast<std::size_t>(passage.zone_a)];
  const Zone& b = zones[static_cast<std::size_t>(passage.zone_b)];
  if (reader.child(item, "across")) {
    const std::string letter = reader.word(item, "across");
    if (!letter.empty()) passage.normal = letter[0] - 'x';
  } else {
    passage.normal = facing_axis(a, b);
    reader.assume_found(item, "across", kAxes[passage.normal]);
  }
  const SharedWall wall = shared_wall(a, b, passage.normal);
  if (const auto at = reader.numbers(item, "at")) {
    passage.centre = Vec3((*at)[0], (*at)[1], (*at)[2]);
    const bool known_size = reader.device().size.x() > 0.0;
    if (known_size && !inside_chassis(reader.device(), passage.centre)) {
      reader.error(reader.child(item, "at"), "the point lies outside the chassis");
    }
  } else if (!reader.child(item, "at")) {
    passage.centre = wall.touch ? wall.centre : Vec3(0.5 * (a.centre + b.centre));
    reader.assume_found(item, "at", write_point(passage.centre));
  }
}

void warn_if_too_large(Reader& reader, const Item& item, const Passage& passage) {
  const auto& zones = reader.device().zones;
  const Zone& a = zones[static_cast<std::size_t>(passage.zone_a)];
  const Zone& b = zones[static_cast<std::size_t>(passage.zone_b)];
  const int first = passage.normal == 0 ? 1 : 0;
  const int second = passage.normal == 2 ? 1 : 2;
  const double room_first = std::min(a.size[first], b.size[first]);
  const double room_second = std::min(a.size[second], b.size[second]);
  if (*passage.width <= room_first + kSameLength && *passage.height <= room_second + kSameLength) return;
  const Item size = reader.child(item, "size");
  reader.report.warning(size.node->spot, size.path,
                        fmt::format("larger than the zones it joins, which leave {} along {} and {} along {}",
                                    write_quantity(room_first, "mm"), kAxes[first],
                                    write_quantity(room_second, "mm"), kAxes[second]));
}

Passage read_passage(Reader& reader, const Item& item) {
  Passage passage;
  reader.check_map(item);
  if (item.node->kind != Node::Kind::map) return passage;
  const auto between = reader.references(item, "between");
  const auto size = reader.values(item, "size");
  passage.length = reader.value(item, "length");
  passage.bends = reader.value(item, "bends");
  if (size) {
    passage.width = (*size)[0];
    passage.height = (*size)[1];
  }
  if (between.size() != 2) return passage;
  passage.zone_a = between[0].index;
  passage.zone_b = between[1].index;
  place_passage(reader, item, passage);
  if (size) warn_if_too_large(reader, item, passage);
  return passage;
}

}  // namespace

void read_passages(Reader& reader, const Item&) {
  const Names& names = reader.names["passages"];
  for (std::size_t i = 0; i < names.all.size(); ++i) {
    Passage passage = read_passage(reader, names.items[i]);
    passage.name = names.all[i];
    reader.device().passages.push_back(passage);
  }
}

}  // namespace tuft::casefile
