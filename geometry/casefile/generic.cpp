#include "geometry/casefile/generic.hpp"

#include <fmt/core.h>

#include <stdexcept>
#include <utility>

#include "geometry/casefile/nearest.hpp"

namespace tuft::casefile {
namespace {

[[noreturn]] void broken(const std::string& what) { throw std::logic_error("generic.yaml: " + what); }

const Node& must_have(const Node& map, const char* key, Node::Kind kind, const std::string& where) {
  const Entry* entry = map.find(key);
  if (entry == nullptr || entry->value.kind != kind) broken(where + " lacks " + key);
  return entry->value;
}

std::vector<GenericThing> read_things() {
  const auto document = parse_document(generic_text());
  if (!document || document->kind != Node::Kind::map) broken("no map");
  std::vector<GenericThing> things;
  for (const Entry& list : document->entries) {
    if (list.key == "tuft-generic") continue;
    for (const Entry& thing : list.value.entries) {
      const std::string where = list.key + "." + thing.key;
      things.push_back({list.key, thing.key, must_have(thing.value, "says", Node::Kind::text, where).text,
                        must_have(thing.value, "why", Node::Kind::text, where).text,
                        must_have(thing.value, "gives", Node::Kind::map, where)});
    }
  }
  return things;
}

// --- into a document -----------------------------------------------------------------------------

Node* child_of(Node& map, const std::string& key) {
  for (Entry& entry : map.entries)
    if (entry.key == key) return &entry.value;
  return nullptr;
}

std::string reason_of(const GenericThing& thing) { return "like " + thing.name + ": " + thing.why; }

// The thing's entries that a map lacks, as if they stood where the thing is named.
void add_missing(Node& map, const GenericThing& thing, Spot spot) {
  for (const Entry& entry : thing.gives.entries) {
    if (map.find(entry.key) != nullptr) continue;
    Entry given = entry;
    given.key_spot = given.value.spot = spot;
    given.value.why = reason_of(thing);
    map.entries.push_back(std::move(given));
  }
}

// False, and a message, where a map's own kind is another than the thing's.
bool is_of_kind(const Node& map, const GenericThing& thing, Spot like, const std::string& path,
                Report& report) {
  const Entry* own = map.find("kind");
  const Entry* kind = thing.gives.find("kind");
  if (own == nullptr || kind == nullptr || own->value.kind != Node::Kind::text ||
      own->value.text == kind->value.text)
    return true;
  report.conflict(own->value.spot, path + ".kind",
                  fmt::format("{} is of kind '{}', and this says {}; take one of them out",
                              in_quotes(thing.name), kind->value.text, in_quotes(own->value.text)),
                  like, "the generic thing is named here");
  return false;
}

// `like: name` in a map.
void fill_map(Node& map, const std::string& list, const std::string& path, Report& report) {
  const Entry* like = map.find("like");
  if (like == nullptr) return;
  const Node& name = like->value;
  const std::string where = path + ".like";
  const Spot spot = name.spot;
  const std::vector<std::string> known = generic_names(list);
  if (name.kind != Node::Kind::text) {
    report.error(name.kind == Node::Kind::nothing ? like->key_spot : spot, where,
                 fmt::format("expected the name of a generic thing, found {}", describe(name)));
    map.faulty = true;  // what it lacks is no news
  } else if (const GenericThing* thing = find_generic(list, name.text); thing == nullptr) {
    report.error(
        spot, where,
        fmt::format("there is nothing generic called {} here ({})", in_quotes(name.text), listed(known)),
        hint_for(name.text, known));
    map.faulty = true;
  } else if (is_of_kind(map, *thing, spot, path, report)) {
    add_missing(map, *thing, spot);
  }
}

// A map, or a bare name in its place: `cover: honeycomb`.
void fill_thing(Node& node, const std::string& list, const std::string& path, Report& report) {
  if (node.kind == Node::Kind::text) {
    const GenericThing* thing = find_generic(list, node.text);
    if (thing == nullptr) return;  // another word, which the reader knows or refuses
    const Spot spot = node.spot;
    node = Node{};
    node.kind = Node::Kind::map;
    node.spot = spot;
    add_missing(node, *thing, spot);
  } else if (node.kind == Node::Kind::map) {
    fill_map(node, list, path, report);
  }
}

// `joins: {fins: heat-pipe-6}`
void fill_joins(Node& thing) {
  Node* joins = child_of(thing, "joins");
  if (joins == nullptr) return;
  for (Entry& path : joins->entries) {
    const GenericThing* pipe = find_generic("joins", path.value.text);
    if (path.value.kind != Node::Kind::text || pipe == nullptr) continue;
    path.value.text = pipe->gives.find("resistance")->value.text;
    path.value.why = reason_of(*pipe);
  }
}

template <class Fill>
void in_section(Node& root, const std::string& section, const Fill& fill) {
  Node* things = child_of(root, section);
  if (things == nullptr) return;
  for (Entry& entry : things->entries) fill(entry.value, section + "." + entry.key);
}

}  // namespace

const std::vector<GenericThing>& generic_things() {
  static const std::vector<GenericThing> things = read_things();
  return things;
}

std::vector<std::string> generic_names(const std::string& list) {
  std::vector<std::string> names;
  for (const GenericThing& thing : generic_things())
    if ((list.empty() || thing.list == list) && !contains(names, thing.name)) names.push_back(thing.name);
  return names;
}

const GenericThing* find_generic(const std::string& list, const std::string& name) {
  for (const GenericThing& thing : generic_things())
    if (thing.list == list && thing.name == name) return &thing;
  return nullptr;
}

void fill_in_generic(Node& root, Report& report) {
  for (const char* section : {"fans", "fins", "parts"})
    in_section(root, section, [&](Node& thing, const std::string& path) {
      if (thing.kind == Node::Kind::map) fill_map(thing, section, path, report);
    });
  in_section(root, "supports",
             [&](Node& thing, const std::string& path) { fill_thing(thing, "supports", path, report); });
  in_section(root, "vents", [&](Node& vent, const std::string& path) {
    if (Node* cover = child_of(vent, "cover")) fill_thing(*cover, "covers", path + ".cover", report);
  });
  for (const char* section : {"sources", "parts"})
    in_section(root, section, [](Node& thing, const std::string&) { fill_joins(thing); });
}

}  // namespace tuft::casefile
