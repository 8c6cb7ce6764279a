// Sections vents (with their grilles) and leaks.
#include <fmt/core.h>

#include "geometry/casefile/field_reader.hpp"
#include "geometry/casefile/nearest.hpp"

namespace tuft::casefile {
namespace {

using geometry::Face;
using geometry::Vent;

// --- grilles -------------------------------------------------------------------------------------

// The word of the kind: written as `cover: mesh`, as `kind: mesh`, or assumed. Empty when faulty.
std::string kind_word(Reader& reader, const Item& vent, const Item& item) {
  if (!item) {
    const Default& fallback = *find_key("vents.*.cover")->default_of();
    reader.assume_default(vent, "cover");
    return fallback.value;
  }
  if (item.node->kind == Node::Kind::map) return reader.word(item, "kind");
  const std::vector<std::string>& words = find_key(item.pattern)->or_words;
  if (item.node->kind != Node::Kind::text) {
    reader.error(item, "expected a kind (" + listed(words) + ") or a map, found " + describe(*item.node));
    return "";
  }
  const std::string& word = item.node->text;
  if (contains(words, word)) return word;
  reader.error(item, fmt::format("{} is no kind of cover ({})", in_quotes(word), listed(words)),
               hint_for(word, words_and_things(*find_key(item.pattern))));
  return "";
}

geometry::Cover read_cover(Reader& reader, const Item& vent) {
  geometry::Cover cover;
  const Item written = reader.child(vent, "cover");
  const std::string kind = kind_word(reader, vent, written);
  const bool is_map = written && written.node->kind == Node::Kind::map;
  if (is_map) reader.check_map(written, kind);
  if (kind.empty()) return cover;
  cover.kind = *geometry::kind_called<geometry::CoverKind>(kind);
  const Item item =
      is_map ? written : Item{&empty_map(), vent.path + ".cover", "vents.*.cover", vent.key_spot};
  FieldReader fields(reader, item, {kind});
  fields.first(cover, {"loss", "thickness"});
  fields.rest(cover);
  cover.loss_given = static_cast<bool>(reader.child(item, "loss"));
  return cover;
}

// --- vents and leaks -----------------------------------------------------------------------------

// Whose outgoing air the vent draws in again.
void read_recirculates(Reader& reader, const Item& item, Vent& vent) {
  double sum = 0.0, most = 0.0;
  for (const auto& [name, entry] : reader.entries(item)) {
    const auto share = reader.quantity(entry);
    const int other = reader.called(name, entry, {"vents"}).index;
    if (other < 0 || !share) continue;
    if (name == vent.name)
      reader.key_error(entry, "a vent can't take back its own air",
                       "name the vents whose air comes round to it");
    vent.recirculates.push_back({other, *share});
    sum += **share;
    most += share->high;
  }
  if (sum > 1.0 + 1e-9) {
    reader.error(item, fmt::format("the shares add to {}, more than 100 %", write_quantity(sum, "%")));
  } else if (most > 1.0 + 1e-9) {
    reader.error(
        item, fmt::format("the spreads let the shares add to {}, more than 100 %", write_quantity(most, "%")),
        "write narrower spreads");
  }
}

// The edge between the shells runs along the longer side of a narrow face and around the base and the top.
void assume_leak_area(Reader& reader, const Item& item, Vent& leak) {
  constexpr double gap = 0.05e-3;  // [m], clipped plastic or sheet shells; judgement, hence the factor of 3
  const Eigen::Vector2d size = face_size(reader.device().size, leak.face);
  const bool around = leak.face == Face::base || leak.face == Face::top;
  const double nominal = gap * (around ? 2.0 * (size.x() + size.y()) : size.x());
  leak.leak_area = geometry::Value(0.0);
  if (nominal > 0.0)
    leak.leak_area = {nominal, geometry::SpreadKind::log_uniform, nominal / 3.0, nominal * 3.0,
                      geometry::Origin::assumed};
  reader.add_input(item.path + ".area", *find_key("leaks.*.area"), leak.leak_area);
  reader.assume_found(item, "area", write_quantity(leak.leak_area, "mm2"));
}

// A leak over the whole of its face.
Vent whole_face(const geometry::Device& device, Face face) {
  Vent leak;
  leak.face = face;
  leak.is_leak = true;
  const Eigen::Vector2d size = face_size(device.size, face);
  leak.width = size.x();
  leak.height = face == Face::hinge ? 1e-3 : size.y();
  leak.centre = geometry::on_face(device, face, 0.5 * size.x(), 0.5 * size.y());
  return leak;
}

void read_leak(Reader& reader, const Item& item, Vent& leak) {
  leak.is_leak = true;
  if (!reader.check_map(item)) return;
  const std::optional<Face> face = read_face(reader, item);
  if (!face) return;
  const std::string name = leak.name;
  leak = whole_face(reader.device(), *face);
  leak.name = name;
  place_on_face(reader, item, leak);
  if (!reader.child(item, "centre")) reader.assume_default(item, "centre");
  if (!reader.child(item, "size")) reader.assume_default(item, "size");
  if (reader.child(item, "area"))
    leak.leak_area = reader.value(item, "area");
  else
    assume_leak_area(reader, item, leak);
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
    const Item item{nullptr, "leaks." + leak.name, "leaks.*", {1, 1}};
    assume_leak_area(reader, item, leak);
    reader.names["leaks"].all.push_back(leak.name);
    reader.names["leaks"].items.push_back(item);
    reader.device().vents.push_back(leak);
  }
}

}  // namespace

void read_vent(Reader& reader, const Item& item, Vent& vent) {
  if (!reader.check_map(item)) return;
  if (const auto face = read_face(reader, item)) {
    vent.face = *face;
    place_on_face(reader, item, vent);
  }
  vent.cover = read_cover(reader, item);
  FieldReader(reader, item).rest(vent);
  if (const Item back = reader.child(item, "recirculates")) read_recirculates(reader, back, vent);
}

void read_leaks(Reader& reader, const Item& root) {
  if (!reader.child(root, "leaks")) return assume_seams(reader);
  reader.read_named("leaks", reader.device().vents, read_leak);
}

}  // namespace tuft::casefile
