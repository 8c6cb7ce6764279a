#include "geometry/casefile/observations.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <optional>
#include <string>
#include <vector>

#include "geometry/casefile/document.hpp"
#include "geometry/casefile/nearest.hpp"
#include "geometry/casefile/quantity.hpp"

namespace tuft::casefile {
namespace {

int find(const std::vector<std::string>& names, const std::string& name) {
  const auto at = std::find(names.begin(), names.end(), name);
  return at == names.end() ? -1 : static_cast<int>(at - names.begin());
}

using geometry::PlaceKind;

constexpr std::size_t kMostLines = 200;

// The keys that say what was looked at, and what their reading is.
struct ObservedKind {
  const char* key;
  Observed what;
  Dimension reads;
};
constexpr ObservedKind kObservedKinds[] = {{"strip", Observed::strip, Dimension::other},
                                           {"anemometer", Observed::anemometer, Dimension::velocity},
                                           {"fan", Observed::fan, Dimension::rotation},
                                           {"chip", Observed::chip, Dimension::temperature},
                                           {"skin", Observed::skin, Dimension::temperature},
                                           {"air", Observed::air, Dimension::temperature},
                                           {"spot", Observed::spot, Dimension::temperature},
                                           {"ruler", Observed::ruler, Dimension::length}};

template <typename List>
std::vector<std::string> names_of(const List& list) {
  std::vector<std::string> out;
  for (const auto& entry : list) out.push_back(entry.name);
  return out;
}

bool ends_with(const std::string& text, const std::string& end) {
  return text.size() >= end.size() && text.compare(text.size() - end.size(), end.size(), end) == 0;
}

bool stands_before_vent(Observed what) {
  return what == Observed::strip || what == Observed::anemometer || what == Observed::air;
}

class ObservationReader {
 public:
  ObservationReader(const geometry::Case& content, const std::vector<geometry::Spot>& spots,
                    const KnownTools& tools, Report& report)
      : content_(content), spots_(spots), tools_(tools), report_(report) {}

  std::vector<ObservationLine> read(const Node& root) {
    std::vector<ObservationLine> out;
    const Entry* version = root.find("tuft-observations");
    if (version == nullptr || version->value.text != "1") {
      const Spot spot = version == nullptr ? root.spot : version->value.spot;
      report_.error(spot, "tuft-observations", "a file of observations says 'tuft-observations: 1'");
      return out;
    }
    check_keys(root, "", {"tuft-observations", "observations"});
    const Entry* list = root.find("observations");
    if (list == nullptr) {
      report_.error(root.spot, "", "the key 'observations' is missing");
      return out;
    }
    if (list->value.kind != Node::Kind::list || list->value.items.empty()) {
      report_.error(list->key_spot, "observations",
                    "expected a list of observations, found " + describe(list->value));
      return out;
    }
    if (list->value.items.size() > kMostLines) {
      report_.error(list->key_spot, "observations", fmt::format("at most {} are allowed", kMostLines));
      return out;
    }
    for (std::size_t i = 0; i < list->value.items.size(); ++i)
      out.push_back(line(list->value.items[i], fmt::format("observations[{}]", i)));
    return out;
  }

 private:
  const ObservedKind* kind_of(const Node& map, const std::string& path) {
    std::vector<std::string> all;
    const ObservedKind* found = nullptr;
    for (const ObservedKind& kind : kObservedKinds) {
      all.push_back(kind.key);
      const Entry* entry = map.find(kind.key);
      if (entry == nullptr) continue;
      if (found != nullptr) {
        report_.conflict(entry->key_spot, path, "an observation has one instrument, and it has one",
                         map.find(found->key)->key_spot, "the other one");
        return nullptr;
      }
      found = &kind;
    }
    if (found != nullptr) return found;
    // An instrument nobody knows is an unknown key, and then that is the message.
    const std::vector<std::string> others = {"in", "leans", "reads", "error", "at", "with", "hand-held"};
    bool unknown = false;
    for (const Entry& entry : map.entries) unknown = unknown || !contains(others, entry.key);
    if (!unknown) report_.error(map.spot, path, "no instrument is named; known: " + listed(all));
    return nullptr;
  }

  ObservationLine line(const Node& map, const std::string& path) {
    ObservationLine out;
    out.line = map.spot.line;
    if (map.kind != Node::Kind::map) {
      report_.error(map.spot, path, "expected a map of keys, found " + describe(map));
      return out;
    }
    check_keys(map, path,
               {"in", "strip", "anemometer", "fan", "chip", "skin", "air", "spot", "ruler", "leans", "reads",
                "error", "at", "with", "hand-held"});
    const ObservedKind* kind = kind_of(map, path);
    if (kind == nullptr) return out;
    out.what = kind->what;
    if (out.what != Observed::ruler)
      out.condition = name(map, path, "in", "a condition", names_of(content_.conditions));
    Dimension reads = kind->reads;
    thing(map, path, *kind, out, reads);
    reading(map, path, reads, out);
    before_vent(map, path, out);
    say(map, *kind, out);
    return out;
  }

  void thing(const Node& map, const std::string& path, const ObservedKind& kind, ObservationLine& out,
             Dimension& reads) {
    const geometry::Device& device = content_.device;
    switch (out.what) {
      case Observed::strip:
      case Observed::anemometer:
      case Observed::air:
        out.index = name(map, path, kind.key, "a vent", names_of(device.vents));
        return;
      case Observed::fan:
        out.index = name(map, path, kind.key, "a fan", names_of(device.fans));
        return;
      case Observed::skin:
        out.index = name(map, path, kind.key, "a patch of skin", names_of(device.skins));
        return;
      case Observed::spot:
        out.index = name(map, path, kind.key, "a spot", names_of(spots_));
        return;
      case Observed::chip:
        return chip(map, path, out);
      case Observed::ruler:
        return ruler(map, path, out, reads);
    }
  }

  void chip(const Node& map, const std::string& path, ObservationLine& out) {
    std::vector<std::string> known;
    std::vector<geometry::Place> places;
    for (std::size_t s = 0; s < content_.device.sources.size(); ++s) {
      if (content_.device.sources[s].joints.empty()) continue;  // it has no temperature of its own
      known.push_back(content_.device.sources[s].name);
      places.push_back({PlaceKind::source, static_cast<int>(s)});
    }
    for (std::size_t p = 0; p < content_.device.parts.size(); ++p) {
      known.push_back(content_.device.parts[p].name);
      places.push_back({PlaceKind::part, static_cast<int>(p)});
    }
    out.index = name(map, path, "chip", "a chip or part with a temperature", known);
    if (out.index >= 0) out.place = at(places, out.index);
  }

  void ruler(const Node& map, const std::string& path, ObservationLine& out, Dimension& reads) {
    std::vector<std::string> known;
    std::vector<int> numbers;
    for (std::size_t i = 0; i < content_.inputs.size(); ++i) {
      const std::string& key = content_.inputs[i].key;
      const bool share = ends_with(key, ".open") || ends_with(key, ".blocked");
      if (!share && !ends_with(key, ".hole") && key.find("size") == std::string::npos &&
          key != "device.feet" && !ends_with(key, ".gap"))
        continue;
      known.push_back(key);
      numbers.push_back(static_cast<int>(i));
    }
    const int found = name(map, path, "ruler", "a size or free area that is in doubt", known);
    out.index = found < 0 ? -1 : at(numbers, found);
    if (found >= 0 && (ends_with(at(known, found), ".open") || ends_with(at(known, found), ".blocked")))
      reads = Dimension::share;
  }

  void reading(const Node& map, const std::string& path, Dimension reads, ObservationLine& out) {
    const bool strip = out.what == Observed::strip;
    const char* key = strip ? "leans" : "reads";
    const char* other = strip ? "reads" : "leans";
    if (const Entry* wrong = map.find(other))
      report_.error(wrong->key_spot, path + "." + other,
                    fmt::format("'{}' goes with {}", other, strip ? "all but strips" : "strips alone"));
    if (map.find(key) == nullptr) {
      report_.error(map.spot, path,
                    fmt::format("the key '{}' is missing ({})", key,
                                strip ? "in, out or still" : "what the instrument showed"));
      return;
    }
    if (strip) {
      const int word = name(map, path, "leans", "one of", {"in", "still", "out"});
      out.reading = word - 1;
      if (const Entry* error = map.find("error"))
        report_.error(error->key_spot, path + ".error", "'error' goes with numbers alone");
      return;
    }
    if (const auto value = exact(map, path, key, reads)) out.reading = *value;
    const Dimension of_error = reads == Dimension::temperature ? Dimension::difference : reads;
    if (const auto error = exact(map, path, "error", of_error)) {
      out.error = *error;
      if (*error <= 0.0)
        report_.error(map.find("error")->value.spot, path + ".error", "the error is not above zero");
    }
  }

  void before_vent(const Node& map, const std::string& path, ObservationLine& out) {
    const bool tool = out.what == Observed::strip || out.what == Observed::anemometer;
    const Entry* at = map.find("at");
    if (at != nullptr && !stands_before_vent(out.what))
      report_.error(at->key_spot, path + ".at", "'at' goes with strip, anemometer or air alone");
    for (const char* key : {"with", "hand-held"}) {
      const Entry* entry = map.find(key);
      if (entry != nullptr && !tool)
        report_.error(entry->key_spot, path + "." + key,
                      fmt::format("'{}' goes with strip or anemometer alone", key));
    }
    if (!stands_before_vent(out.what)) return;
    if (const auto distance = exact(map, path, "at", Dimension::length)) {
      out.distance = *distance;
      if (*distance <= 0.0 || *distance > 0.5)
        report_.error(map.find("at")->value.spot, path + ".at",
                      "out of range: above 0 mm and at most 500 mm");
    }
    if (tool && map.find("with") != nullptr) {
      const bool strip = out.what == Observed::strip;
      const auto& known = strip ? tools_.strips : tools_.anemometers;
      if (name(map, path, "with", strip ? "a strip" : "an anemometer", known) >= 0)
        out.tool = text(map, path, "with");
    }
    const std::string hand = text(map, path, "hand-held");
    if (!hand.empty() && hand != "true" && hand != "false")
      report_.error(map.find("hand-held")->value.spot, path + ".hand-held",
                    fmt::format("{} is neither true nor false", in_quotes(hand)));
    out.hand_held = hand == "true";
  }

  void say(const Node& map, const ObservedKind& kind, ObservationLine& out) {
    const auto written = [&](const char* key) {
      const Entry* entry = map.find(key);
      return entry == nullptr ? std::string() : entry->value.text;
    };
    out.words = std::string(kind.key) + (stands_before_vent(out.what) ? " at " : " ") + written(kind.key);
    if (out.what != Observed::ruler) out.words += " in " + written("in");
    out.words += ": " + written(out.what == Observed::strip ? "leans" : "reads");
  }

  // --- values under keys of a map at a path; what is wrong goes to the report ---

  void check_keys(const Node& map, const std::string& path, const std::vector<std::string>& known) {
    for (const Entry& entry : map.entries) {
      if (contains(known, entry.key)) continue;
      report_.error(entry.key_spot, path,
                    fmt::format("unknown key {} (known: {})", in_quotes(entry.key), listed(known)),
                    hint_for(entry.key, known));
    }
  }

  // Empty if the key is not there, or holds no text (reported).
  std::string text(const Node& map, const std::string& path, const char* key) {
    const Entry* entry = map.find(key);
    if (entry == nullptr) return "";
    if (entry->value.kind == Node::Kind::text) return entry->value.text;
    report_.error(entry->value.spot, path + "." + key, "expected a text, found " + describe(entry->value));
    return "";
  }

  // Index of the name a key holds, or -1 (reported); `one` says what it should be: "a vent".
  int name(const Node& map, const std::string& path, const char* key, const char* one,
           const std::vector<std::string>& known) {
    const Entry* entry = map.find(key);
    if (entry == nullptr) {
      report_.error(map.spot, path, fmt::format("the key '{}' is missing ({}: {})", key, one, listed(known)));
      return -1;
    }
    const std::string written = text(map, path, key);
    const int index = find(known, written);
    if (index < 0 && entry->value.kind == Node::Kind::text) {
      const std::string have = known.empty() ? "the case has none" : "the case has " + listed(known);
      report_.error(entry->value.spot, path + "." + key,
                    fmt::format("{} is not {} ({})", in_quotes(written), one, have),
                    hint_for(written, known));
    }
    return index;
  }

  // A quantity without a spread [SI]; empty if the key is not there, or wrong (reported).
  std::optional<double> exact(const Node& map, const std::string& path, const char* key,
                              Dimension dimension) {
    const Entry* entry = map.find(key);
    if (entry == nullptr) return std::nullopt;
    const std::string written = text(map, path, key);
    if (entry->value.kind != Node::Kind::text) return std::nullopt;
    const Quantity read = read_quantity(written, dimension);
    if (!read.ok()) {
      report_.error(entry->value.spot, path + "." + key, read.fault, read.hint);
      return std::nullopt;
    }
    if (read.value.spread != geometry::SpreadKind::none) {
      report_.error(entry->value.spot, path + "." + key,
                    fmt::format("{} has a spread, which has no meaning here", in_quotes(written)),
                    "write the reading alone, and its standard deviation at 'error'");
      return std::nullopt;
    }
    return *read.value;
  }

  const geometry::Case& content_;
  const std::vector<geometry::Spot>& spots_;
  const KnownTools& tools_;
  Report& report_;
};

}  // namespace

const std::vector<ObservationKey>& observation_keys() {
  static const std::vector<ObservationKey> keys = {
      {"in", "a condition", "Condition of the case in which it was measured."},
      {"strip", "a vent", "A strip of tissue was held before this vent; `leans` says what it did."},
      {"leans", "in, still or out", "Towards the device, not at all, or away from it."},
      {"anemometer", "a vent", "Air speed before this vent."},
      {"fan", "a fan", "Speed that the device tells of this fan."},
      {"chip", "a source or part", "Temperature that the device tells of it."},
      {"skin", "a patch of skin", "Temperature of a thermocouple taped to it."},
      {"air", "a vent", "Temperature of a thermocouple held in the air before this vent."},
      {"spot", "a spot", "Temperature that an infrared thermometer shows at a numbered spot of the case."},
      {"ruler", "a key path of the case", "A size or free area that is in doubt: `vents.comb.cover.open`."},
      {"reads", "a quantity", "What the instrument showed, with its unit."},
      {"error", "a quantity", "Standard deviation of the reading, instead of the instrument's own."},
      {"at", "a length", "Distance before the vent; 20 mm if it is not said."},
      {"with", "a tool", "Name of the strip or anemometer, as `tuft bench` names them."},
      {"hand-held", "true or false", "The strip was held in the fingers, not in a holder."}};
  return keys;
}

ObservationsResult read_observations_text(const std::string& text, const std::string& path,
                                          const CaseFile& file, const KnownTools& tools) {
  ObservationsResult result;
  result.text = text;
  const std::string plain = normalised(text);
  Report report(path, plain);
  const TextFault fault = find_text_fault(plain);
  if (!fault.message.empty()) {
    report.error(fault.spot, "", fault.message);
  } else {
    const ParsedDocument document = parse_document(plain, report);
    if (document.complete && document.root.kind == Node::Kind::map) {
      result.lines = ObservationReader(file.content, file.spots, tools, report).read(document.root);
    } else if (document.complete) {
      report.error(document.root.spot, "", "expected a map of keys, found " + describe(document.root),
                   "a file of observations begins with 'tuft-observations: 1'");
    }
  }
  result.errors = report.errors();
  return result;
}

ObservationsResult read_observations(const std::string& path, const CaseFile& file, const KnownTools& tools) {
  const auto refuse = [&](const std::string& why) {
    ObservationsResult result;
    Diagnostic found;
    found.file = path;
    found.message = why;
    result.errors.push_back(found);
    return result;
  };
  std::error_code ignored;
  if (std::filesystem::is_directory(path, ignored))
    return refuse("is a directory, not a file of observations");
  std::ifstream stream(path, std::ios::binary);
  if (!stream) return refuse("can't be opened");
  std::string text(kMaxFileSize + 1, '\0');
  stream.read(text.data(), static_cast<std::streamsize>(text.size()));
  text.resize(static_cast<std::size_t>(stream.gcount()));
  if (stream.bad()) return refuse("can't be read");
  if (text.size() > kMaxFileSize)
    return refuse(fmt::format("the file is larger than {} bytes", kMaxFileSize));
  return read_observations_text(text, path, file, tools);
}

}  // namespace tuft::casefile
