// Section lid.
#include <fmt/core.h>

#include <algorithm>

#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {
namespace {

using geometry::Lid;

void sort_and_check(Reader& reader, std::vector<std::pair<Lid::Hides, Item>>& rows) {
  std::stable_sort(rows.begin(), rows.end(),
                   [](const auto& a, const auto& b) { return a.first.angle < b.first.angle; });
  for (std::size_t i = 1; i < rows.size(); ++i) {
    if (rows[i].first.angle > rows[i - 1].first.angle) continue;
    reader.report.conflict(rows[i].second.key_spot, rows[i].second.path, "this angle is written twice",
                           rows[i - 1].second.key_spot, "first written here");
  }
}

std::vector<Lid::Hides> read_hides(Reader& reader, const Item& item) {
  std::vector<std::pair<Lid::Hides, Item>> rows;
  for (const auto& [angle, entry] : reader.entries(item)) {
    const Quantity read = read_quantity(angle, Dimension::angle);
    const auto share = reader.quantity(entry);
    const bool plain = read.ok() && read.value.spread == geometry::SpreadKind::none;
    constexpr double full_turn = 6.2831853071795865;
    if (!plain || *read.value < 0.0 || *read.value > full_turn + 1e-9) {
      const std::string fault =
          read.ok() ? fmt::format("{} is no angle from 0 to 360 deg", in_quotes(angle)) : read.fault;
      reader.report.error(entry.key_spot, entry.path, fault, read.hint);
    } else if (share) {
      rows.push_back({{*read.value, **share}, entry});
    }
  }
  sort_and_check(reader, rows);
  std::vector<Lid::Hides> out;
  for (const auto& row : rows) out.push_back(row.first);
  return out;
}

// The default's text is a piece of a case file and is read as one.
std::vector<Lid::Hides> assumed_hides(Reader& reader, const Item& lid) {
  const std::string& text = find_key("lid.hides-hinge")->default_of("")->value;
  Report unused("", text);
  const ParsedDocument document = parse_document(text, unused);
  reader.assume_default(lid, "hides-hinge");
  return read_hides(reader, {&document.root, lid.path + ".hides-hinge", "lid.hides-hinge", lid.key_spot});
}

}  // namespace

void read_lid(Reader& reader, const Item& root) {
  const Item item = reader.child(root, "lid");
  if (!item) return;
  reader.check_map(item);
  if (item.node->kind != Node::Kind::map) return;
  Lid& lid = reader.device().lid;
  lid.present = true;
  lid.angle = reader.value(item, "angle");
  lid.clearance = reader.value(item, "clearance");
  const auto& vents = reader.device().vents;
  const bool on_hinge = std::any_of(vents.begin(), vents.end(),
                                    [](const auto& vent) { return vent.face == geometry::Face::hinge; });
  if (on_hinge || reader.child(item, "edge-distance"))
    lid.edge_distance = reader.value(item, "edge-distance");
  if (const Item hides = reader.child(item, "hides-hinge")) {
    lid.hides_hinge = read_hides(reader, hides);
  } else {
    lid.hides_hinge = assumed_hides(reader, item);
  }
}

}  // namespace tuft::casefile
