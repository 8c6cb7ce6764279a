#include "geometry/casefile/reference.hpp"

#include <fmt/core.h>

#include "geometry/casefile/generic.hpp"
#include "geometry/casefile/nearest.hpp"

namespace tuft::casefile {
namespace {

std::string range_text(const Key& key) {
  if (key.low.empty()) return "";
  const bool open = key.low[0] == '>';
  return open ? fmt::format(", above {} up to {}", key.low.substr(2), key.high)
              : fmt::format(", {} to {}", key.low, key.high);
}

std::string sections_text(const std::vector<std::string>& sections) {
  std::string out;
  for (const std::string& section : sections) out += (out.empty() ? "" : " or ") + section;
  return out;
}

std::string holds_itself(const Key& key) {
  const DimensionInfo& info = dimension_info(key.dimension);
  const std::string spread =
      key.exact && (key.type == Type::quantity || key.type == Type::quantities) ? ", no spread" : "";
  const std::string most = key.most > 0 ? fmt::format(", at most {}", key.most) : "";
  switch (key.type) {
    case Type::map:
      return "map";
    case Type::named:
      return "map of names" + most;
    case Type::list:
      return "list" + most;
    case Type::quantity:
      return info.article + range_text(key) + spread;
    case Type::quantities: {
      const std::string count =
          key.least > 0 ? fmt::format("{} or {}", key.least, key.count) : std::to_string(key.count);
      if (key.second != Dimension::other)
        return fmt::format("list of {}: {}, then {}", count, info.article,
                           dimension_info(key.second).article);
      return fmt::format("list of {}, each {}{}{}", count, info.article, range_text(key), spread);
    }
    case Type::word:
      return code_list(key.words);
    case Type::text:
      return "text";
    case Type::truth:
      return "`true` or `false`";
    case Type::reference:
      return "a name of " + sections_text(key.words);
    case Type::references:
      return key.count > 0 ? fmt::format("list of {} names of {}", key.count, sections_text(key.words))
                           : fmt::format("a name of {}, or a list of them", sections_text(key.words));
    case Type::inputs:
      return fmt::format("list of at least {} key paths", key.least);
  }
  return "";
}

}  // namespace

std::string code_list(const std::vector<std::string>& words) {
  std::string out;
  for (const std::string& word : words) out += (out.empty() ? "`" : ", `") + word + "`";
  return out;
}

std::string holds(const Key& key) {
  std::string out = holds_itself(key);
  if (!key.or_words.empty()) out += "; or " + code_list(key.or_words);
  if (!key.or_things.empty()) out += "; or a generic thing: " + code_list(key.or_things);
  if (!key.or_sections.empty()) out += "; or a name of " + sections_text(key.or_sections);
  if (key.or_quantity) out += std::string("; or ") + dimension_info(key.dimension).article + range_text(key);
  if (key.or_numbers > 0) out += fmt::format("; or a list of {} numbers", key.or_numbers);
  return out;
}

std::string required_unless(const Key& key) {
  if (key.or_keys.empty()) return "";
  return key.or_keys.size() > 1 ? " unless distances to edges say it"
                                : fmt::format(" unless `{}` gives it", key.or_keys.front());
}

std::string meaning(const Key& key) {
  std::string out = key.says;
  if (!key.kinds.empty()) out += " For " + code_list(key.kinds) + ".";
  if (key.statement) out += " (A statement.)";
  return out;
}

// --- the reference -------------------------------------------------------------------------------

namespace {

constexpr const char* kIntroduction =
    R"(# The case file

A case file describes one device, in YAML, as somebody with a ruler and an opened device sees it. This
reference is written from the table the reader itself uses; `docs/case-file.schema.json` is the same for
editors.

Keys are strict: one that is not listed here is an error, and so is one written twice. Aliases, merge
keys, tags and more than one document in a file are refused. A file is UTF-8, at most 1 MiB long.

**Axes.** x runs to the right, y from the front edge to the rear edge, z from the base up, for a device
lying flat and seen by the person using it. The origin is the front left corner of the base.

**Names** of zones, vents, fans and so on are chosen freely: letters, digits, `-`, `_`, `.` and spaces
inside, at most 100 bytes. Zones, fins, vents and leaks share their names, since one key may name any of
them; so do zones, fins, parts and patches of skin, and so do sources and parts.

## Quantities

A quantity is a number and its unit. A number without a unit is an error, except where the table says "a
number". A share is written with `%`, or as a bare number from 0 to 1.

| Written | Means |
|---|---|
| `35 W` | exactly this |
| `35 W ± 10 %`, `35 W +- 3 W`, `35 ± 3 W` | normal; the central 95 % lie within. Of a share, `%` are points: `42 % ± 5 %` is 37..47 % |
| `21 °C ± 1 K` | the spread of a temperature is a difference |
| `3..5 mm` | anywhere in the range, equally likely; 4 mm is taken as nominal |
| `3..4..5 mm` | triangular, likeliest at 4 mm |
| `2 mm */ 3` | between a third and three times, equally likely on a logarithmic scale |
| `2..3..4..6..9 mm` | five numbers or more, an odd number of them: as likely between any two neighbours, so that half lie below the middle one, which is taken as nominal. `tuft learn` writes this |

Common units: mm, cm, m, in; mm2, cm²; L/s, m3/h, m³/h, cfm; Pa, mmH2O, inH2O; rpm, rev/s; W, mW; °C, K,
°F; deg, °, rad; m/s, mm/s; kg/m3; W/K, K/W, J/K; W/(m2 K) or W/m2/K; W/(m K); J/(m2 K); s, min, h. Any
other unit of the same dimension that UDUNITS-2 knows will do.

## Defaults

What the file does not say is assumed, with the uncertainty of its class of things, and every report lists what
was assumed. "Judgement" means that no source stands behind a value but experience; "from memory" that a
source exists but was not at hand.

## Generic things

What nobody measures may be named: `like: blower-50` at a fan, `cover: honeycomb` at a vent, `fabric-sofa` as a support,
`heat-pipe-6` as a heat path in `joins`. The name stands for a class of things, invented by us, with a range for each
value. What the file states itself counts instead; the other values keep the range of the class, and are listed among
what was assumed. `tuft reference generic` prints all of them with their reasons; they stand in `generic.yaml`.

## Places

Places are coordinates on the axes above, or distances to the sides of the chassis, measured to the nearest side of the
thing: `from-left: 12 mm`, `from-front: 8 mm`. Left is the left of a device that lies flat before you, also on its base.
A fan, a fin stack or a source may be left without a place. The drawings then show it dotted with "place not given",
`tuft lint` names it, and `tuft field` warns.
)";

std::string escaped(const std::string& text) {
  std::string out;
  for (const char c : text) out += c == '|' ? std::string("\\|") : std::string(1, c);
  return out;
}

std::string default_text(const Key& key) {
  if (key.required) return "**required**" + required_unless(key);
  std::string out;
  for (const Default& entry : key.defaults) {
    if (!out.empty()) out += "<br>";
    if (!entry.when.empty()) out += entry.when + ": ";
    out += fmt::format("{} ({})", entry.value, entry.why);
  }
  return out;
}

void write_below(const std::string& pattern, std::string& out) {
  for (const Key* key : keys_below(pattern)) {
    out += fmt::format("| `{}` | {} | {} | {} |\n", key->path, escaped(holds(*key)),
                       escaped(default_text(*key)), escaped(meaning(*key)));
    write_below(key->path, out);
  }
}

}  // namespace

std::string case_introduction_markdown() { return kIntroduction; }

std::string case_reference_markdown() {
  std::string out = kIntroduction;
  for (const Key* section : keys_below("")) {
    out += fmt::format("\n## {}\n\n{}\n", section->path, section->says);
    if (section->required) out += "Required.\n";
    for (const Default& entry : section->defaults)
      out += fmt::format("Without it: {} ({}).\n", entry.value, entry.why);
    if (section->type == Type::word) out += fmt::format("It is {}.\n", code_list(section->words));
    if (keys_below(section->path).empty()) continue;
    out += "\n| Key | Holds | Default | Meaning |\n|---|---|---|---|\n";
    write_below(section->path, out);
  }
  return out;
}

// --- finding what somebody asks for --------------------------------------------------------------

namespace {

// "claims[].id" -> claims, [], id.
std::vector<std::string> parts_of(const std::string& path) {
  std::vector<std::string> parts;
  std::string part;
  for (std::size_t i = 0; i <= path.size(); ++i) {
    if (i == path.size() || path[i] == '.' || path[i] == '[') {
      if (!part.empty()) parts.push_back(part);
      part = i < path.size() && path[i] == '[' ? "[" : "";
    } else {
      part += path[i];
    }
  }
  return parts;
}

const Key* child_called(const std::string& pattern, const std::string& name) {
  for (const Key* key : keys_below(pattern))
    if (key->name() == name) return key;
  return nullptr;
}

// One step down. A chosen name stands for '*'; the items of a list need not be written.
const Key* step(const std::string& pattern, const std::string& part) {
  if (const Key* exact = child_called(pattern, part)) return exact;
  if (const Key* item = child_called(pattern, "[]")) return step(item->path, part);
  return part.front() == '[' ? nullptr : child_called(pattern, "*");
}

// The row that a path leads to as far as it can be followed, and how many of its parts that takes.
std::pair<const Key*, std::size_t> follow(const std::vector<std::string>& parts) {
  const Key* key = nullptr;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const Key* next = step(key == nullptr ? "" : key->path, parts[i]);
    if (next == nullptr) return {key, i};
    key = next;
  }
  return {key, parts.size()};
}

void add_with_all_below(const Key& key, std::vector<std::string>& paths) {
  paths.push_back(key.path);
  for (const Key* below : keys_below(key.path)) add_with_all_below(*below, paths);
}

// A path with '*' for the names chosen as far as it can be followed, and from there on as it was written.
std::string as_in_table(const std::vector<std::string>& parts) {
  const auto [key, known] = follow(parts);
  std::string path = key == nullptr ? "" : key->path;
  for (std::size_t i = known; i < parts.size(); ++i)
    path += (path.empty() || parts[i].front() == '[' ? "" : ".") + parts[i];
  return path;
}

}  // namespace

std::vector<std::string> section_names() {
  std::vector<std::string> names;
  for (const Key* section : keys_below("")) names.push_back(section->path);
  return names;
}

std::vector<std::string> keys_asked_for(const std::string& asked) {
  std::vector<std::string> paths;
  const std::vector<std::string> parts = parts_of(asked);
  const auto [found, known] = follow(parts);
  if (found != nullptr && known == parts.size()) {
    add_with_all_below(*found, paths);
  } else if (parts.size() == 1) {
    for (const Key& key : key_table())
      if (key.name() == asked) paths.push_back(key.path);
  }
  return paths;
}

std::string nearest_reference(const std::string& asked) {
  std::vector<std::string> known = section_names();
  known.push_back("generic");
  const std::vector<std::string> parts = parts_of(asked);
  for (const Key& key : key_table()) {
    const std::string name = parts.size() > 1 ? key.path : key.name();
    if (name != "*" && name != "[]" && !contains(known, name)) known.push_back(name);
  }
  for (const std::string& name : generic_names())
    if (parts.size() == 1) known.push_back(name);
  const std::string hint = did_you_mean(parts.size() > 1 ? as_in_table(parts) : asked, known);
  return hint.empty() ? "the sections are: " + listed(section_names()) : hint;
}

}  // namespace tuft::casefile
