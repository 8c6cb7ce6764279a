// The case-file reference, written from the key table.
#include <fmt/core.h>

#include "geometry/casefile/keys.hpp"
#include "geometry/casefile/reference.hpp"
#include "geometry/casefile/reference_words.hpp"

namespace tuft::casefile {
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

Common units: mm, cm, m, in; mm2, cm²; L/s, m3/h, m³/h, cfm; Pa, mmH2O, inH2O; rpm, rev/s; W, mW; °C, K,
°F; deg, °, rad; m/s, mm/s; kg/m3; W/K, K/W, J/K; W/(m2 K) or W/m2/K; W/(m K); J/(m2 K); s, min, h. Any
other unit of the same dimension that UDUNITS-2 knows will do.

## Defaults

What the file does not say is assumed, with the doubt of its class of things, and every report lists what
was assumed. "Judgement" means that no source stands behind a value but experience; "from memory" that a
source exists but was not at hand.
)";

std::string escaped(const std::string& text) {
  std::string out;
  for (const char c : text) out += c == '|' ? std::string("\\|") : std::string(1, c);
  return out;
}

std::string default_text(const Key& key) {
  if (key.required) return "**required**";
  std::string out;
  for (const Default& entry : key.defaults) {
    if (!out.empty()) out += "<br>";
    if (!entry.when.empty()) out += entry.when + ": ";
    out += fmt::format("{} ({})", entry.value, entry.why);
  }
  return out;
}

void write_row(const Key& key, std::string& out) {
  out += fmt::format("| `{}` | {} | {} | {} |\n", key.path, escaped(holds(key)), escaped(default_text(key)),
                     escaped(meaning(key)));
}

void write_below(const std::string& pattern, std::string& out) {
  for (const Key* key : keys_below(pattern)) {
    write_row(*key, out);
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
    for (const Default& entry : section->defaults) {
      out += fmt::format("Without it: {} ({}).\n", entry.value, entry.why);
    }
    if (section->type == Type::word) out += fmt::format("It is {}.\n", code_list(section->words));
    if (keys_below(section->path).empty()) continue;
    out += "\n| Key | Holds | Default | Meaning |\n|---|---|---|---|\n";
    write_below(section->path, out);
  }
  return out;
}

}  // namespace tuft::casefile
