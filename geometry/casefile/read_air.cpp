// The room's draught and a support's tilt: maps that a word for nothing may stand in place of.
#include <fmt/core.h>

#include "geometry/casefile/field_reader.hpp"
#include "geometry/casefile/nearest.hpp"

namespace tuft::casefile {
namespace {

// Reads the map at a key into an object whose fields are exactly zero as made. Without the key they take
// their defaults; with one of the row's words they stay zero.
template <class Thing>
void read_or_zero(Reader& reader, const Item& map, const std::string& key, const Words& is, Thing& thing) {
  const Item written = Reader::child(map, key);
  if (!written) {
    const Item empty{&empty_map(), map.path + "." + key, map.pattern + "." + key, map.key_spot};
    return FieldReader(reader, empty, is).rest(thing);
  }
  const Words& words = find_key(written.pattern)->or_words;
  if (written.node->kind == Node::Kind::map) {
    if (reader.check_map(written)) FieldReader(reader, written, is).rest(thing);
    return;
  }
  const bool text = written.node->kind == Node::Kind::text;
  if (text && contains(words, written.node->text)) return;
  std::vector<std::string> keys;
  for (const Key* row : keys_below(written.pattern)) keys.push_back(row->name());
  const std::string found = text ? in_quotes(written.node->text) : describe(*written.node);
  reader.error(written,
               fmt::format("expected {} or a map of {}, found {}", listed(words), listed(keys), found),
               text ? hint_for(written.node->text, words) : "");
}

}  // namespace

void read_draught(Reader& reader, const Item& room, geometry::Draught& draught) {
  read_or_zero(reader, room, "draught", {}, draught);
}

void read_tilt(Reader& reader, const Item& support, const std::string& kind, geometry::Tilt& tilt) {
  read_or_zero(reader, support, "tilt", {kind}, tilt);
}

}  // namespace tuft::casefile
