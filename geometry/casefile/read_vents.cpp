// Sections vents (with their covers) and leaks.
#include <fmt/core.h>

#include <algorithm>
#include <optional>

#include "geometry/casefile/boxes.hpp"
#include "geometry/casefile/nearest.hpp"
#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {
namespace {

using geometry::Cover;
using geometry::CoverKind;
using geometry::Face;
using geometry::SpreadKind;
using geometry::Value;
using geometry::Vec3;
using geometry::Vent;

constexpr Face kFaces[] = {Face::base,  Face::top,  Face::left, Face::right,
                           Face::front, Face::rear, Face::hinge};

std::optional<Face> face_of(const std::string& word) {
  for (const Face face : kFaces) {
    if (word == geometry::face_word(face)) return face;
  }
  return std::nullopt;
}

// The rectangle must lie on its face; the hinge slot has no width of its own to compare with.
void check_on_face(Reader& reader, const Item& item, const Vent& vent) {
  if (reader.device().size.x() <= 0.0) return;
  const Eigen::Vector2d face = face_size(reader.device(), vent.face);
  const Eigen::Vector2d at = on_face_coordinates(vent);
  const double extent[] = {vent.width, vent.height};
  Vec3 first, second;
  geometry::face_axes(vent.face, first, second);
  const int axes[] = {first.x() > 0 ? 0 : 1, second.y() > 0 ? 1 : 2};
  for (int i = 0; i < (vent.face == Face::hinge ? 1 : 2); ++i) {
    const double low = at[i] - 0.5 * extent[i];
    const double high = at[i] + 0.5 * extent[i];
    if (low >= -kSameLength && high <= face[i] + kSameLength) continue;
    reader.error(item, fmt::format("reaches from {} to {} along {}, beyond the {} face (0 mm to {})",
                                   write_quantity(low, "mm"), write_quantity(high, "mm"),
                                   std::string("xyz").substr(static_cast<std::size_t>(axes[i]), 1),
                                   geometry::face_word(vent.face), write_quantity(face[i], "mm")));
  }
}

struct Rectangle {
  std::optional<std::vector<double>> centre, size;
};

// Puts a rectangle on its face and checks that it lies there.
void place(Reader& reader, const Item& item, const Rectangle& where, Vent& vent) {
  if (where.centre) {
    const std::vector<double>& centre = *where.centre;
    const bool two = centre.size() == 2;
    if (!two && vent.face != Face::hinge) {
      reader.error(reader.child(item, "centre"), "expected two coordinates; only on the hinge one is enough");
      return;
    }
    vent.centre = geometry::on_face(reader.device(), vent.face, centre[0], two ? centre[1] : 0.0);
  }
  if (where.size) {
    vent.width = (*where.size)[0];
    vent.height = (*where.size)[1];
  }
  if (where.centre && where.size) check_on_face(reader, item, vent);
}

Vent read_vent(Reader& reader, const Item& item) {
  Vent vent;
  reader.check_map(item);
  if (item.node->kind != Node::Kind::map) return vent;
  const std::optional<Face> face = face_of(reader.word(item, "face"));
  const Rectangle where{reader.numbers(item, "centre"), reader.numbers(item, "size")};
  if (face) {
    vent.face = *face;
    place(reader, item, where, vent);
  }
  vent.cover = read_cover(reader, item);
  vent.blocked = reader.value(item, "blocked");
  return vent;
}

// Length of the seam along a face: the edge between the shells runs along the longer side of a narrow face
// and around the base and the top.
double seam_length(const geometry::Device& device, Face face) {
  const Eigen::Vector2d size = face_size(device, face);
  return face == Face::base || face == Face::top ? 2.0 * (size.x() + size.y()) : size.x();
}

Value assumed_leak_area(const geometry::Device& device, Face face) {
  constexpr double gap = 0.05e-3;  // [m], clipped plastic or sheet shells; judgement, hence the factor of 3
  const double nominal = gap * seam_length(device, face);
  if (nominal <= 0.0) return Value(0.0);
  return Value(nominal, SpreadKind::log_uniform, nominal / 3.0, nominal * 3.0, geometry::Origin::assumed);
}

// A leak over the whole of its face.
Vent whole_face(const geometry::Device& device, Face face) {
  Vent leak;
  leak.face = face;
  leak.is_leak = true;
  const Eigen::Vector2d size = face_size(device, face);
  leak.width = size.x();
  leak.height = face == Face::hinge ? 1e-3 : size.y();
  leak.centre = geometry::on_face(device, face, 0.5 * size.x(), 0.5 * size.y());
  return leak;
}

Vent read_leak(Reader& reader, const Item& item) {
  Vent leak;
  leak.is_leak = true;
  reader.check_map(item);
  if (item.node->kind != Node::Kind::map) return leak;
  const std::optional<Face> face = face_of(reader.word(item, "face"));
  if (!face) return leak;
  leak = whole_face(reader.device(), *face);
  const Rectangle where{reader.numbers(item, "centre"), reader.numbers(item, "size")};
  place(reader, item, where, leak);
  if (!reader.child(item, "centre")) reader.assume_default(item, "centre");
  if (!reader.child(item, "size")) reader.assume_default(item, "size");
  if (reader.child(item, "area")) {
    leak.leak_area = reader.value(item, "area");
  } else {
    leak.leak_area = assumed_leak_area(reader.device(), *face);
    reader.assume_found(item, "area", write_quantity(leak.leak_area, "mm2"));
  }
  return leak;
}

void assume_seams(Reader& reader) {
  reader.assume_default({}, "leaks");
  for (const Face face : {Face::left, Face::right, Face::front, Face::rear}) {
    Vent leak = whole_face(reader.device(), face);
    leak.name = std::string("seam-") + geometry::face_word(face);
    const auto taken = [&] {
      return reader.names["vents"].find(leak.name) >= 0 || reader.names["zones"].find(leak.name) >= 0 ||
             reader.names["fins"].find(leak.name) >= 0;
    };
    while (taken()) leak.name += "-assumed";
    leak.leak_area = assumed_leak_area(reader.device(), face);
    const Item item{nullptr, "leaks." + leak.name, "leaks.*", {1, 1}};
    reader.assume_found(item, "area", write_quantity(leak.leak_area, "mm2"));
    reader.names["leaks"].all.push_back(leak.name);
    reader.names["leaks"].items.push_back(item);
    reader.device().vents.push_back(leak);
  }
}

}  // namespace

void read_vents(Reader& reader, const Item&) {
  const Names& names = reader.names["vents"];
  for (std::size_t i = 0; i < names.all.size(); ++i) {
    Vent vent = read_vent(reader, names.items[i]);
    vent.name = names.all[i];
    reader.device().vents.push_back(vent);
  }
}

void read_leaks(Reader& reader, const Item& root) {
  if (!reader.child(root, "leaks")) return assume_seams(reader);
  const Names& names = reader.names["leaks"];
  for (std::size_t i = 0; i < names.all.size(); ++i) {
    Vent leak = read_leak(reader, names.items[i]);
    leak.name = names.all[i];
    reader.device().vents.push_back(leak);
  }
}

}  // namespace tuft::casefile
