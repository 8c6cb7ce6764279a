// Rectangles on faces: vents, leaks, patches of skin.
#include <fmt/core.h>

#include <algorithm>

#include "geometry/casefile/nearest.hpp"
#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {
namespace {

using geometry::Face;
using geometry::Vec3;

// The rectangle must lie on its face; the hinge slot has no width of its own to compare with.
void check_on_face(Reader& reader, const Item& item, const Rectangle& where) {
  if (reader.device().size.x() <= 0.0) return;
  const Eigen::Vector2d face = face_size(reader.device().size, where.face);
  const Eigen::Vector2d at = on_face_coordinates(where);
  const double extent[] = {where.width, where.height};
  Vec3 first, second;
  geometry::face_axes(where.face, first, second);
  const int axes[] = {first.x() > 0 ? 0 : 1, second.y() > 0 ? 1 : 2};
  for (int i = 0; i < (where.face == Face::hinge ? 1 : 2); ++i) {
    const double low = at[i] - 0.5 * extent[i];
    const double high = at[i] + 0.5 * extent[i];
    if (low >= -kSameLength && high <= face[i] + kSameLength) continue;
    const std::string axis = std::string("xyz").substr(static_cast<std::size_t>(axes[i]), 1);
    const std::string word = geometry::face_word(where.face);
    if (extent[i] > face[i] + kSameLength) {
      reader.error(item,
                   fmt::format("is {} wide along {}, larger than the {} face ({})",
                               write_quantity(extent[i], "mm"), axis, word, write_quantity(face[i], "mm")));
    } else {
      reader.error(item, fmt::format("reaches from {} to {} along {}, beyond the {} face (0 mm to {})",
                                     write_quantity(low, "mm"), write_quantity(high, "mm"), axis, word,
                                     write_quantity(face[i], "mm")));
    }
  }
}

}  // namespace

std::optional<Face> read_face(Reader& reader, const Item& item) {
  const std::string word = reader.word(item, "face");
  for (const Face face : geometry::kFaces) {
    if (word == geometry::face_word(face)) return face;
  }
  return std::nullopt;
}

Rectangle read_rectangle(Reader& reader, const Item& item, Rectangle where) {
  const auto centre = reader.numbers(item, "centre");
  const auto size = reader.numbers(item, "size");
  if (centre) {
    const bool two = centre->size() == 2;
    if (!two && where.face != Face::hinge) {
      reader.error(reader.child(item, "centre"), "expected two coordinates; only on the hinge one is enough");
      return where;
    }
    where.centre = geometry::on_face(reader.device(), where.face, (*centre)[0], two ? (*centre)[1] : 0.0);
  }
  if (size) {
    where.width = (*size)[0];
    where.height = (*size)[1];
  }
  if (centre && size) check_on_face(reader, item, where);
  return where;
}

std::optional<int> zone_just_inside(Reader& reader, const Item& item, const Rectangle& where,
                                    const std::string& what, const std::string& choice) {
  const geometry::Device& device = reader.device();
  if (reader.names["zones"].broken || device.zones.empty()) return std::nullopt;
  if (device.zones.size() == 1) return 0;
  if (reader.report.has_errors_in({"zones", "device", item.path})) return std::nullopt;
  const std::vector<int> found = zones_behind(device, where.face, where.centre);
  std::vector<std::string> words;
  for (const int i : found) words.push_back(device.zones[static_cast<std::size_t>(i)].name);
  const std::string hint = "write `behind:` with " + choice;
  if (found.size() == 1) {
    reader.assume_found(item, "behind", words[0]);
    return found[0];
  }
  if (found.empty()) {
    reader.report.error(item.key_spot, item.path,
                        fmt::format("no zone's box lies just inside the {} (zones: {})", what,
                                    listed(reader.names["zones"].all)),
                        hint);
  } else {
    reader.report.error(item.key_spot, item.path,
                        fmt::format("the {} lies at the border of several zones: {}", what, listed(words)),
                        hint);
  }
  return std::nullopt;
}

}  // namespace tuft::casefile
