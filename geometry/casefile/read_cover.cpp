// The grille of a vent.
#include <fmt/core.h>

#include <algorithm>

#include "geometry/casefile/nearest.hpp"
#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {
namespace {

using geometry::Cover;
using geometry::CoverKind;

struct CoverWord {
  const char* word;
  CoverKind kind;
};
constexpr CoverWord kCoverKinds[] = {{"open", CoverKind::open},   {"perforated", CoverKind::perforated},
                                     {"mesh", CoverKind::mesh},   {"louvre", CoverKind::louvre},
                                     {"slots", CoverKind::slots}, {"foam", CoverKind::foam}};

CoverKind cover_kind(const std::string& word) {
  for (const CoverWord& entry : kCoverKinds) {
    if (word == entry.word) return entry.kind;
  }
  return CoverKind::open;
}

// The word of the kind: written as `cover: mesh`, as `kind: mesh`, or assumed. Empty when faulty.
std::string kind_word(Reader& reader, const Item& vent, const Item& item) {
  if (!item) {
    const Default& fallback = *find_key("vents.*.cover")->default_of("");
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
               hint_for(word, words));
  return "";
}

}  // namespace

Cover read_cover(Reader& reader, const Item& vent) {
  Cover cover;
  const Item written = reader.child(vent, "cover");
  const std::string kind = kind_word(reader, vent, written);
  const bool is_map = written && written.node->kind == Node::Kind::map;
  if (is_map) reader.check_map(written, kind);
  if (kind.empty()) return cover;
  const Item item =
      is_map ? written : Item{&empty_map(), vent.path + ".cover", "vents.*.cover", vent.key_spot};
  cover.kind = cover_kind(kind);
  if (const auto loss = reader.given(item, "loss")) {
    cover.loss_given = true;
    cover.loss = *loss;
  }
  if (cover.kind == CoverKind::open) return cover;
  cover.thickness = reader.value(item, "thickness", kind);
  if (cover.kind == CoverKind::foam) {
    cover.permeability = reader.value(item, "permeability");
    cover.inertia = reader.value(item, "inertia");
  } else {
    cover.open_ratio = reader.value(item, "open", kind);
    cover.hole = reader.value(item, "hole", kind);
  }
  return cover;
}

}  // namespace tuft::casefile
