// Things that don't fit, and vents and feet that are not where they would count.
#include <fmt/core.h>

#include <algorithm>
#include <set>

#include "geometry/casefile/boxes.hpp"
#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {
namespace {

using geometry::Face;
using geometry::SupportKind;
using geometry::Vent;

// --- sizes ---------------------------------------------------------------------------------------

// An axial fan right at a vent stands across that face. It may be laid down behind a duct, so this is no
// error.
void warn_across(Reader& reader, int fan_index) {
  const geometry::Fan& fan = at(reader.device().fans, fan_index);
  if (fan.kind != geometry::FanKind::axial) return;
  for (const auto& [key, place] : {std::pair{"draws-from", fan.draws_from}, {"blows-into", fan.blows_into}}) {
    if (place.kind != geometry::PlaceKind::vent) continue;
    const Vent& vent = at(reader.device().vents, place.index);
    if (vent.face == Face::hinge) continue;
    const double room = face_size(reader.device().size, vent.face).minCoeff();
    if (fan.diameter.low <= room + kSameLength) continue;
    const Item& item = at(reader.names["fans"].items, fan_index);
    const Item given = reader.child(item, "diameter");
    reader.warning(
        given,
        fmt::format("an axial impeller of {} does not fit across the {} face of '{}', which has room for {}",
                    write_quantity(*fan.diameter, "mm"), geometry::face_word(vent.face), vent.name,
                    write_quantity(room, "mm")),
        fmt::format("check the diameter and the device's size; if a duct leads to the vent, let "
                    "`{}` name a zone",
                    key));
  }
}

// A round impeller needs two sides of the box at least as long as it is wide; it may lie or stand.
void check_impellers(Reader& reader) {
  const geometry::Vec3& size = reader.device().size;
  double sides[] = {size.x(), size.y(), size.z()};
  std::sort(std::begin(sides), std::end(sides));
  const Names& names = reader.names["fans"];
  for (std::size_t i = 0; i < names.all.size(); ++i) {
    if (reader.device().fans[i].diameter.low <= sides[1] + kSameLength) {
      warn_across(reader, static_cast<int>(i));
      continue;
    }
    const Item item = reader.child(names.items[i], "diameter");
    reader.error(item,
                 fmt::format("an impeller of {} does not fit into the chassis, whose largest face is {} "
                             "by {}",
                             write_quantity(*reader.device().fans[i].diameter, "mm"),
                             write_quantity(sides[2], "mm"), write_quantity(sides[1], "mm")));
  }
}

// Holes and meshes need their width both ways; slots and gaps between blades may run along the short side.
double room_for_hole(const Vent& vent) {
  return geometry::info_of(vent.cover.kind).is_long ? std::max(vent.width, vent.height)
                                                    : std::min(vent.width, vent.height);
}

void check_holes(Reader& reader) {
  const Names& names = reader.names["vents"];
  for (std::size_t i = 0; i < names.all.size(); ++i) {
    const Vent& vent = reader.device().vents[i];
    const bool has_holes = geometry::info_of(vent.cover.kind).hole.value != nullptr;
    const double room = room_for_hole(vent);
    if (!has_holes || vent.cover.hole.low <= room + kSameLength) continue;
    const Item given = reader.child(reader.child(names.items[i], "cover"), "hole");
    const std::string hole = write_quantity(vent.cover.hole, "mm");
    if (given) {
      reader.error(given, fmt::format("a hole of {} is larger than its vent, which has room for {}", hole,
                                      write_quantity(room, "mm")));
    } else {
      reader.key_warning(
          names.items[i],
          fmt::format("the hole assumed for its cover ({}) is larger than the vent, which has room for {}",
                      hole, write_quantity(room, "mm")),
          "say what covers it");
    }
  }
}

void check_hinge(Reader& reader) {
  const geometry::Device& device = reader.device();
  if (device.lid.present) return;
  const std::size_t n_vents = reader.names["vents"].all.size();
  for (std::size_t i = 0; i < device.vents.size(); ++i) {
    if (device.vents[i].face != Face::hinge) continue;
    const bool leak = i >= n_vents;
    const Item& item = leak ? reader.names["leaks"].items[i - n_vents] : reader.names["vents"].items[i];
    const Item face = reader.child(item, "face");
    reader.error(face, "a device without a lid has no hinge",
                 "add a section `lid:`, or choose the rear or the top");
  }
}

// --- feet ----------------------------------------------------------------------------------------

// The face that looks down within 45 degrees, which is what the device rests on.
std::optional<Face> lowest_face(const geometry::Pose& pose) {
  std::optional<Face> best;
  double most = 0.70710678 - 1e-9;
  for (const Face face : {Face::base, Face::top, Face::left, Face::right, Face::front, Face::rear}) {
    const double value = geometry::face_normal(face).dot(pose.down());
    if (value <= most + 1e-12) continue;
    most = value;
    best = face;
  }
  return best;
}

std::string gap_instead(const geometry::Support& support) {
  if (support.kind != SupportKind::hard) return "it lies on the support without a gap";
  return "its gap there is the support's edge-gap, " + write_quantity(support.edge_gap, "mm");
}

void tell_of_feet(Reader& reader, const geometry::Condition& condition) {
  const geometry::Case& content = reader.content();
  const auto& support = at(content.supports, condition.support);
  const auto& pose = at(content.poses, condition.pose);
  const std::optional<Face> face = lowest_face(pose);
  if (face == Face::base) return;
  const std::string where = fmt::format("pose {} on {}", pose.name, support.name);
  const std::string key = support.gap_given ? "supports." + support.name + ".gap" : "device.feet";
  if (face) {
    reader.assume(key, fmt::format("not used with {}", where),
                  fmt::format("the device rests on its {} face, and the feet stand under the base: {}",
                              geometry::face_word(*face), gap_instead(support)));
  } else {
    reader.assume(
        key, fmt::format("not used with {}", where),
        "no face lies within 45 degrees of the support: nothing is taken to be close to the device");
  }
}

bool stands_on_feet(const geometry::Support& support) {
  return support.kind == SupportKind::hard || support.kind == SupportKind::soft ||
         support.kind == SupportKind::lap;
}

}  // namespace

void check_sizes(Reader& reader) {
  const auto sound = [&](const char* section) { return !reader.report.has_errors_in({"device", section}); };
  if (sound("fans")) check_impellers(reader);
  if (sound("vents")) check_holes(reader);
  // A faulty lid is one all the same.
  if (!reader.report.has_errors_in({"lid", "vents", "leaks"})) check_hinge(reader);
}

void tell_of_feet(Reader& reader) {
  std::set<std::pair<int, int>> told;
  const geometry::Case& content = reader.content();
  for (const geometry::Condition& condition : content.conditions) {
    if (!stands_on_feet(at(content.supports, condition.support))) continue;
    if (told.insert({condition.pose, condition.support}).second) tell_of_feet(reader, condition);
  }
  for (const geometry::Sweep& sweep : content.sweeps) {
    const auto& condition = at(content.conditions, sweep.condition);
    if (!stands_on_feet(at(content.supports, condition.support))) continue;
    reader.assume("device.feet",
                  fmt::format("used in the sweep {} only while the base is lowest", sweep.name),
                  "the feet stand under the base");
  }
}

}  // namespace tuft::casefile
