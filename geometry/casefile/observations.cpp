#include "geometry/casefile/observations.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <optional>

#include "geometry/casefile/nearest.hpp"
#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {
namespace {

using geometry::ends_with;
using geometry::names_of;
using geometry::PlaceKind;

constexpr std::size_t kMostLines = 200;

// The keys that say what was looked at, what their reading is, and what they name.
struct ObservedKind {
  const char* key;
  Observed what;
  Dimension reads;
  const char* one;
};
constexpr ObservedKind kObservedKinds[] = {
    {"strip", Observed::strip, Dimension::other, "a vent"},
    {"anemometer", Observed::anemometer, Dimension::velocity, "a vent"},
    {"fan", Observed::fan, Dimension::rotation, "a fan"},
    {"chip", Observed::chip, Dimension::temperature, "a chip or part with a temperature"},
    {"skin", Observed::skin, Dimension::temperature, "a patch of skin"},
    {"air", Observed::air, Dimension::temperature, "a vent"},
    {"spot", Observed::spot, Dimension::temperature, "a spot"},
    {"infrared", Observed::infrared, Dimension::temperature, "a patch of skin"},
    {"ruler", Observed::ruler, Dimension::length, "an uncertain size or free area"}};
const std::vector<std::string> kOtherKeys = {"leans", "reads", "error", "at", "with", "hand-held"};

bool is_share(const std::string& key) { return ends_with(key, ".open") || ends_with(key, ".blocked"); }

bool can_be_measured(const std::string& key) {
  return is_share(key) || ends_with(key, ".hole") || key.find("size") != std::string::npos ||
         key == "device.feet" || ends_with(key, ".gap");
}

bool stands_before_vent(Observed what) {
  return what == Observed::strip || what == Observed::anemometer || what == Observed::air;
}

std::string written(const Item& map, const char* key) {
  const Item item = Reader::child(map, key);
  return item ? item.node->text : "";
}

class ObservationReader {
 public:
  ObservationReader(const CaseFile& file, const KnownTools& tools, Report& report)
      : content_(file.content), spots_(file.spots), tools_(tools), report_(report) {}

  std::vector<ObservationLine> read(const Node& top) {
    const Item root{&top, "", "", top.spot};
    std::vector<ObservationLine> out;
    const Item version = Reader::child(root, "tuft-observations");
    if (!version || version.node->text != "1") {
      const Spot spot = version ? version.node->spot : top.spot;
      report_.error(spot, "tuft-observations", "a file of observations says 'tuft-observations: 1'");
      return out;
    }
    check_keys(root, {"tuft-observations", "observations"});
    const Item list = Reader::child(root, "observations");
    if (!list) {
      error(root, "the key 'observations' is missing");
    } else if (list.node->kind != Node::Kind::list || list.node->items.empty()) {
      key_error(list, "expected a list of observations, found " + describe(*list.node));
    } else if (list.node->items.size() > kMostLines) {
      key_error(list, fmt::format("at most {} are allowed", kMostLines));
    } else {
      for (std::size_t i = 0; i < list.node->items.size(); ++i) {
        const Node& node = list.node->items[i];
        out.push_back(line({&node, fmt::format("observations[{}]", i), "", node.spot}));
      }
    }
    return out;
  }

 private:
  const ObservedKind* kind_of(const Item& map) {
    std::vector<std::string> all;
    const ObservedKind* found = nullptr;
    for (const ObservedKind& kind : kObservedKinds) {
      all.push_back(kind.key);
      const Item item = Reader::child(map, kind.key);
      if (!item) continue;
      if (found != nullptr) {
        report_.conflict(item.key_spot, map.path,
                         "an observation has one instrument, and this one has one already",
                         Reader::child(map, found->key).key_spot, "the other one");
        return nullptr;
      }
      found = &kind;
    }
    // An instrument nobody knows is an unknown key, and then that is the message.
    const bool known =
        std::all_of(map.node->entries.begin(), map.node->entries.end(),
                    [](const Entry& entry) { return entry.key == "in" || contains(kOtherKeys, entry.key); });
    if (found == nullptr && known) error(map, "no instrument is named; known: " + listed(all));
    return found;
  }

  ObservationLine line(const Item& map) {
    ObservationLine out;
    out.line = map.node->spot.line;
    if (map.node->kind != Node::Kind::map) {
      error(map, "expected a map of keys, found " + describe(*map.node));
      return out;
    }
    std::vector<std::string> known = {"in"};
    for (const ObservedKind& kind : kObservedKinds) known.push_back(kind.key);
    known.insert(known.end(), kOtherKeys.begin(), kOtherKeys.end());
    check_keys(map, known);
    const ObservedKind* kind = kind_of(map);
    if (kind == nullptr) return out;
    out.what = kind->what;
    if (out.what != Observed::ruler)
      out.condition = name(map, "in", "a condition", names_of(content_.conditions));
    const Dimension reads = thing(map, *kind, out);
    reading(map, reads, out);
    before_vent(map, out);
    say(map, *kind, out);
    return out;
  }

  // What was looked at. Returns what the reading measures.
  Dimension thing(const Item& map, const ObservedKind& kind, ObservationLine& out) {
    std::vector<std::string> known;
    std::vector<geometry::Place> places;
    std::vector<int> numbers;
    switch (out.what) {
      case Observed::strip:
      case Observed::anemometer:
      case Observed::air:
        known = names_of(content_.device.vents);
        break;
      case Observed::fan:
        known = names_of(content_.device.fans);
        break;
      case Observed::skin:
      case Observed::infrared:
        known = names_of(content_.device.skins);
        break;
      case Observed::spot:
        known = names_of(spots_);
        break;
      case Observed::chip:
        for (const geometry::Source& source : content_.device.sources) {
          if (source.joints.empty()) continue;  // it has no temperature of its own
          known.push_back(source.name);
          places.push_back({PlaceKind::source, static_cast<int>(&source - content_.device.sources.data())});
        }
        for (const geometry::Part& part : content_.device.parts) {
          known.push_back(part.name);
          places.push_back({PlaceKind::part, static_cast<int>(&part - content_.device.parts.data())});
        }
        break;
      case Observed::ruler:
        for (const geometry::Input& input : content_.inputs) {
          if (!can_be_measured(input.key)) continue;
          known.push_back(input.key);
          numbers.push_back(static_cast<int>(&input - content_.inputs.data()));
        }
        break;
    }
    const int found = name(map, kind.key, kind.one, known);
    out.index = found;
    if (found < 0) return kind.reads;
    if (!places.empty()) out.place = at(places, found);
    if (out.what != Observed::ruler) return kind.reads;
    out.index = at(numbers, found);
    return is_share(at(known, found)) ? Dimension::share : kind.reads;
  }

  void reading(const Item& map, Dimension reads, ObservationLine& out) {
    const bool strip = out.what == Observed::strip;
    const char* key = strip ? "leans" : "reads";
    const char* other = strip ? "reads" : "leans";
    if (const Item wrong = Reader::child(map, other))
      key_error(wrong, fmt::format("'{}' goes with {}", other, strip ? "all but strips" : "strips alone"));
    if (!Reader::child(map, key))
      return error(map, fmt::format("the key '{}' is missing ({})", key,
                                    strip ? "in, out or still" : "what the instrument showed"));
    const Item uncertainty = Reader::child(map, "error");
    if (strip) {
      out.reading = name(map, key, "one of", {"in", "still", "out"}) - 1;
      if (uncertainty) key_error(uncertainty, "'error' goes with numbers alone");
      return;
    }
    out.reading = exact(map, key, reads).value_or(out.reading);
    const Dimension of_error = reads == Dimension::temperature ? Dimension::difference : reads;
    if (const auto given = exact(map, "error", of_error)) {
      out.error = *given;
      if (*given <= 0.0) error(uncertainty, "the error is not above zero");
    }
  }

  void before_vent(const Item& map, ObservationLine& out) {
    const bool tool = out.what == Observed::strip || out.what == Observed::anemometer;
    const Item place = Reader::child(map, "at");
    if (place && !stands_before_vent(out.what))
      key_error(place, "'at' goes with strip, anemometer or air alone");
    for (const char* key : {"with", "hand-held"})
      if (const Item item = Reader::child(map, key); item && !tool)
        key_error(item, fmt::format("'{}' goes with strip or anemometer alone", key));
    if (!stands_before_vent(out.what)) return;
    if (const auto distance = exact(map, "at", Dimension::length)) {
      out.distance = *distance;
      if (*distance <= 0.0 || *distance > 0.5) error(place, "out of range: above 0 mm and at most 500 mm");
    }
    if (tool && Reader::child(map, "with")) {
      const bool strip = out.what == Observed::strip;
      const auto& known = strip ? tools_.strips : tools_.anemometers;
      const int index = name(map, "with", strip ? "a strip" : "an anemometer", known);
      if (index >= 0) out.tool = at(known, index);
    }
    const std::string hand = text(map, "hand-held");
    if (!hand.empty() && hand != "true" && hand != "false")
      error(Reader::child(map, "hand-held"), fmt::format("{} is neither true nor false", in_quotes(hand)));
    out.hand_held = hand == "true";
  }

  static void say(const Item& map, const ObservedKind& kind, ObservationLine& out) {
    out.words =
        std::string(kind.key) + (stands_before_vent(out.what) ? " at " : " ") + written(map, kind.key);
    if (out.what != Observed::ruler) out.words += " in " + written(map, "in");
    out.words += ": " + written(map, out.what == Observed::strip ? "leans" : "reads");
  }

  // --- values under keys of a map; what is wrong goes to the report ---

  void error(const Item& item, const std::string& message, const std::string& hint = "") {
    report_.error(item.node->spot, item.path, message, hint);
  }
  void key_error(const Item& item, const std::string& message) {
    report_.error(item.key_spot, item.path, message);
  }

  void check_keys(const Item& map, const std::vector<std::string>& known) {
    for (const Entry& entry : map.node->entries) {
      if (contains(known, entry.key)) continue;
      report_.error(entry.key_spot, map.path,
                    fmt::format("unknown key {} (known: {})", in_quotes(entry.key), listed(known)),
                    hint_for(entry.key, known));
    }
  }

  // Empty if the key is not there, or holds no text (reported).
  std::string text(const Item& map, const char* key) {
    const Item item = Reader::child(map, key);
    if (item && item.node->kind != Node::Kind::text)
      error(item, "expected a text, found " + describe(*item.node));
    return written(map, key);
  }

  // Index of the name a key holds, or -1 (reported); `one` says what it should be: "a vent".
  int name(const Item& map, const char* key, const char* one, const std::vector<std::string>& known) {
    const Item item = Reader::child(map, key);
    if (!item) {
      error(map, fmt::format("the key '{}' is missing ({}: {})", key, one, listed(known)));
      return -1;
    }
    const std::string word = text(map, key);
    const auto found = std::find(known.begin(), known.end(), word);
    if (found != known.end()) return static_cast<int>(found - known.begin());
    if (item.node->kind == Node::Kind::text) {
      const std::string have = known.empty() ? "the case has none" : "the case has " + listed(known);
      error(item, fmt::format("{} is not {} ({})", in_quotes(word), one, have), hint_for(word, known));
    }
    return -1;
  }

  // A quantity without a spread [SI]; empty if the key is not there, or wrong (reported).
  std::optional<double> exact(const Item& map, const char* key, Dimension dimension) {
    const Item item = Reader::child(map, key);
    const std::string word = text(map, key);
    if (!item || item.node->kind != Node::Kind::text) return std::nullopt;
    const Quantity read = read_quantity(word, dimension);
    if (!read.ok()) {
      error(item, read.fault, read.hint);
    } else if (read.value.spread != geometry::SpreadKind::none) {
      error(item, fmt::format("{} has a spread, which has no meaning here", in_quotes(word)),
            "write the reading alone, and its standard deviation at 'error'");
    } else {
      return *read.value;
    }
    return std::nullopt;
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
      {"fan", "a fan", "Speed that the device reports for this fan."},
      {"chip", "a source or part", "Temperature that the device reports for it."},
      {"skin", "a patch of skin", "Temperature of a thermocouple taped to it."},
      {"air", "a vent", "Temperature of a thermocouple held in the air before this vent."},
      {"spot", "a spot", "Temperature that an infrared thermometer shows at a numbered spot of the case."},
      {"infrared", "a patch of skin",
       "Temperature that an infrared camera shows of it; `tuft thermal` writes such lines."},
      {"ruler", "a key path of the case", "An uncertain size or free area: `vents.comb.cover.open`."},
      {"reads", "a quantity", "What the instrument showed, with its unit."},
      {"error", "a quantity", "Standard deviation of the reading, instead of the instrument's own."},
      {"at", "a length", "Distance before the vent; default: 20 mm."},
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
  if (const auto root = parse_map(plain, report, "a file of observations begins with 'tuft-observations: 1'"))
    result.lines = ObservationReader(file, tools, report).read(*root);
  result.errors = report.errors();
  return result;
}

ObservationsResult read_observations(const std::string& path, const CaseFile& file, const KnownTools& tools) {
  const FileText read = read_file(path, "a file of observations");
  if (read.fault.empty()) return read_observations_text(read.text, path, file, tools);
  ObservationsResult result;
  result.errors.push_back(at_file(path, read.fault));
  return result;
}

}  // namespace tuft::casefile
