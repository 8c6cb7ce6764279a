#include <udunits2.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <memory>
#include <mutex>
#include <stdexcept>
#include <utility>
#include <vector>

#include "geometry/casefile/text.hpp"
#include "geometry/casefile/units.hpp"

namespace tuft::casefile {
namespace {

constexpr std::size_t kLongestUnit = 32;

// Words of the trade that UDUNITS does not know, in words that it does. The water columns are conventional:
// 1 mm of water of 1000 kg/m3 under 9.80665 m/s2.
std::string_view translated(std::string_view text) {
  static const std::map<std::string_view, std::string_view> words = {
      {"cfm", "ft3/min"},        {"CFM", "ft3/min"},
      {"fpm", "ft/min"},         {"FPM", "ft/min"},
      {"lfm", "ft/min"},         {"LFM", "ft/min"},
      {"lpm", "L/min"},          {"LPM", "L/min"},
      {"mmH2O", "9.80665 Pa"},   {"mmH₂O", "9.80665 Pa"},
      {"mmAq", "9.80665 Pa"},    {"mmWC", "9.80665 Pa"},
      {"mm H2O", "9.80665 Pa"},  {"inH2O", "249.08891 Pa"},
      {"inH₂O", "249.08891 Pa"}, {"inAq", "249.08891 Pa"},
      {"inWC", "249.08891 Pa"},  {"in H2O", "249.08891 Pa"},
      {"deg C", "°C"},           {"deg F", "°F"}};
  const auto it = words.find(text);
  return it == words.end() ? text : it->second;
}

// What UDUNITS measures: the dimensions that have units of their own, and a few things no key asks for;
// naming them makes the message.
struct Measured {
  const char* si;
  Dimension dimension;
  const char* what;
};
std::vector<Measured> all_measured() {
  std::vector<Measured> out;
  for (int i = static_cast<int>(Dimension::length); i < static_cast<int>(Dimension::other); ++i) {
    const DimensionInfo& info = dimension_info(static_cast<Dimension>(i));
    out.push_back({info.si, info.dimension, info.article});
  }
  for (const auto& [si, what] : {std::pair{"m3", "a volume"},
                                 {"kg", "a mass"},
                                 {"kg/s", "a mass flow"},
                                 {"J", "an energy"},
                                 {"N", "a force"},
                                 {"A", "a current"},
                                 {"V", "a voltage"},
                                 {"C", "an electric charge"},
                                 {"F", "an electric capacitance"},
                                 {"m/s2", "an acceleration"},
                                 {"W/m2", "a power per area"},
                                 {"Pa s", "a viscosity"},
                                 {"1/s", "a frequency"},
                                 {"rad", "a number with a dimensionless unit"}})
    out.push_back({si, Dimension::other, what});
  return out;
}

template <auto release>
struct FreeBy {
  template <class T>
  void operator()(T* thing) const {
    release(thing);
  }
};
using UnitPointer = std::unique_ptr<ut_unit, FreeBy<ut_free>>;

// The unit database with the texts already understood. Loading takes about 10 ms, so it is done once.
class Database {
 public:
  Database() {
    ut_set_error_message_handler(ut_ignore);  // it would print to stderr
    system_.reset(ut_read_xml(nullptr));
    if (!system_) throw std::runtime_error("the unit database of UDUNITS-2 (udunits2.xml) can't be read");
    for (const Measured& one : measured_) si_.emplace_back(ut_parse(system_.get(), one.si, UT_UTF8));
  }

  Unit find(const std::string& text) {
    const auto cached = cache_.find(text);
    if (cached != cache_.end()) return cached->second;
    const Unit unit = parse(std::string(translated(text)));
    if (cache_.size() < kMostCached) cache_.emplace(text, unit);
    return unit;
  }

  const std::map<std::string, Unit>& understood() const { return cache_; }

 private:
  static constexpr std::size_t kMostCached = 1000;

  Unit parse(const std::string& text) const {
    const UnitPointer unit(ut_parse(system_.get(), text.c_str(), UT_UTF8));
    if (!unit) return {};
    for (std::size_t i = 0; i < si_.size(); ++i) {
      if (ut_are_convertible(unit.get(), si_[i].get()) == 0) continue;
      const Unit found = converted(*unit, i);
      if (found.known) return found;  // to UDUNITS a reciprocal is convertible too: s/m to m/s
    }
    if (has_offset(*unit)) return {};
    return {Dimension::other, "of another kind", 1.0, 0.0, true};
  }

  // "s since 1970", "m @ 3": a scale with an origin, which nothing but a temperature has here.
  bool has_offset(const ut_unit& unit) const {
    char text[200];
    const int length = ut_format(&unit, text, sizeof text, UT_ASCII | UT_DEFINITION);
    return length < 0 ||
           std::string_view(text, std::min<std::size_t>(static_cast<std::size_t>(length), 199)).find('@') !=
               std::string_view::npos;
  }

  Unit converted(ut_unit& unit, std::size_t kind) const {
    const std::unique_ptr<cv_converter, FreeBy<cv_free>> to_si(ut_get_converter(&unit, si_[kind].get()));
    if (!to_si) return {};
    Unit out;
    out.dimension = measured_[kind].dimension;
    out.what = measured_[kind].what;
    out.offset = cv_convert_double(to_si.get(), 0.0);
    out.factor = cv_convert_double(to_si.get(), 1.0) - out.offset;
    // Converting 1 and subtracting loses digits when there is no offset to remove.
    if (std::abs(out.offset) < 1e-300) out.offset = 0.0;
    const double at_two = cv_convert_double(to_si.get(), 2.0);
    const bool linear = std::abs(at_two - (2 * out.factor + out.offset)) <= 1e-9 * std::abs(at_two);
    const bool shifted = out.offset != 0.0 && out.dimension != Dimension::temperature;
    out.known = linear && !shifted && std::isfinite(out.factor) && out.factor > 0.0;
    return out;
  }

  std::unique_ptr<ut_system, FreeBy<ut_free_system>> system_;
  const std::vector<Measured> measured_ = all_measured();
  std::vector<UnitPointer> si_;  // parallel to `measured_`
  std::map<std::string, Unit> cache_;
};

// The texts UDUNITS reads in ways nobody means in a case file are refused: "mm 3" is three millimetres to it,
// '"' a second of arc, "s since 1970" a date.
bool looks_like_unit(std::string_view text) {
  if (text.empty() || text.size() > kLongestUnit) return false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (static_cast<unsigned char>(text[i]) >= 0xC0 && utf8_length(text.substr(i)) == 0) return false;
    const auto c = static_cast<unsigned char>(text[i]);
    const char before = i > 0 ? text[i - 1] : '\0';
    const auto previous = static_cast<unsigned char>(before);
    if (c >= 0x80 || std::isalpha(c) != 0 || c == ' ' || c == '(' || c == ')' || c == '%') continue;
    if (std::isdigit(c) != 0) {
      const bool leading_one = i == 0 && text.substr(0, 2) == "1/";
      const bool exponent = std::isalpha(previous) != 0 || before == '^' || before == '-' || before == ')';
      if (!leading_one && !exponent) return false;
    } else if (c == '-') {
      if (std::isalpha(previous) == 0 && before != '^') return false;
    } else if (c == '/' || c == '*' || c == '.' || c == '^') {
      if (i == 0 || i + 1 == text.size() || before == '*' || before == '/' || before == '^') return false;
    } else {
      return false;
    }
  }
  return true;
}

// UDUNITS-2 keeps parser state of its own; one caller at a time.
std::mutex& turn() {
  static std::mutex mutex;
  return mutex;
}

Database& database() {
  static Database loaded;
  return loaded;
}

}  // namespace

Unit find_unit_in_database(std::string_view text) {
  if (!looks_like_unit(text)) return {};
  const std::lock_guard<std::mutex> lock(turn());
  return database().find(std::string(text));
}

std::map<std::string, Unit> units_understood() {
  const std::lock_guard<std::mutex> lock(turn());
  return database().understood();
}

}  // namespace tuft::casefile
