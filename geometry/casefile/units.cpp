#include "geometry/casefile/units.hpp"

#include <udunits2.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <map>
#include <memory>
#include <mutex>
#include <stdexcept>
#include <utility>

#include "geometry/casefile/text.hpp"
#include "geometry/device/lists.hpp"

namespace tuft::casefile {
namespace {

constexpr double kPi = 3.14159265358979323846;
constexpr std::size_t kLongestUnit = 32;

// In the order of Dimension.
constexpr DimensionInfo kDimensions[] = {
    {Dimension::number, "a number", "no unit", "1"},
    {Dimension::share, "a share", "%, or a bare number from 0 to 1", "1"},
    {Dimension::angle, "an angle", "deg, °, rad", "rad"},
    {Dimension::rotation, "a speed of rotation", "rpm, rev/s", "rev/s"},
    {Dimension::length, "a length", "mm, cm, m, in", "m"},
    {Dimension::area, "an area", "mm2, cm2, m2", "m2"},
    {Dimension::velocity, "a velocity", "m/s, cm/s, mm/s", "m/s"},
    {Dimension::volume_flow, "a volume flow", "L/s, m3/h, cfm", "m3/s"},
    {Dimension::pressure, "a pressure", "Pa, mmH2O, inH2O", "Pa"},
    {Dimension::temperature, "a temperature", "°C, K, °F", "K"},
    {Dimension::power, "a power", "W, mW", "W"},
    {Dimension::density, "a density", "kg/m3", "kg/m3"},
    {Dimension::conductance, "a heat conductance", "W/K", "W/K"},
    {Dimension::permeability, "a permeability", "m2", "m2"},
    {Dimension::inverse_length, "an inverse length", "1/m", "1/m"},
    {Dimension::difference, "a difference of temperatures", "K", "K"},
    {Dimension::resistance, "a heat resistance", "K/W", "K/W"},
    {Dimension::capacity, "a heat capacity", "J/K", "J/K"},
    {Dimension::areal_capacity, "a heat capacity per area", "J/(m2 K), kJ/m2/K", "J/(m2 K)"},
    {Dimension::film, "a heat transfer coefficient", "W/(m2 K), W/m2/K", "W/(m2 K)"},
    {Dimension::conductivity, "a heat conductivity", "W/(m K), W/m/K", "W/(m K)"},
    {Dimension::time, "a time", "s, min, h", "s"},
    {Dimension::other, "something else", "", ""}};

// Units understood without the database, besides those of SI. The dimensionless ones because UDUNITS would
// let them stand for one another, and here 5 % is no angle and 1 rad no share; the others because nearly
// every case file makes do with them, and need not wait for the database to load (a test holds them against
// it).
struct PlainUnit {
  Dimension dimension;
  double factor;
  std::vector<std::string_view> texts;
  double offset = 0.0;
};
const std::vector<PlainUnit>& plain_units() {
  using D = Dimension;
  static const std::vector<PlainUnit> units = {
      {D::share, 0.01, {"%", "percent"}},
      {D::angle, kPi / 180, {"deg", "°", "degree", "degrees"}},
      {D::angle, 1e-3, {"mrad"}},
      {D::rotation, 1.0 / 60, {"rpm", "RPM", "rev/min", "r/min", "1/min"}},
      {D::rotation, 1.0, {"rps", "1/s", "Hz"}},
      {D::rotation, 0.5 / kPi, {"rad/s"}},
      {D::length, 0.01, {"cm"}},
      {D::length, 0.001, {"mm"}},
      {D::area, 1e-4, {"cm2"}},
      {D::area, 1e-6, {"mm2"}},
      {D::velocity, 0.01, {"cm/s"}},
      {D::velocity, 0.001, {"mm/s"}},
      {D::volume_flow, 0.001, {"L/s", "l/s"}},
      {D::volume_flow, 1.0 / 3600, {"m3/h"}},
      {D::temperature, 1.0, {"°C"}, 273.15},
      {D::power, 1000.0, {"kW"}},
      {D::areal_capacity, 1.0, {"J/m2/K"}},
      {D::film, 1.0, {"W/m2/K"}},
      {D::conductivity, 1.0, {"W/m/K"}},
      {D::time, 60.0, {"min"}},
      {D::time, 3600.0, {"h"}}};
  return units;
}

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
  for (const DimensionInfo& info : kDimensions)
    if (info.dimension >= Dimension::length && info.dimension < Dimension::other)
      out.push_back({info.si, info.dimension, info.article});
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

}  // namespace

const DimensionInfo& dimension_info(Dimension dimension) {
  return kDimensions[static_cast<std::size_t>(dimension)];
}

Unit find_unit(std::string_view text) {
  for (const DimensionInfo& info : kDimensions)
    if (info.dimension >= Dimension::angle && text == info.si && !text.empty())
      return {info.dimension, info.article, 1.0, 0.0, true};
  for (const PlainUnit& unit : plain_units())
    if (geometry::contains(unit.texts, text))
      return {unit.dimension, dimension_info(unit.dimension).article, unit.factor, unit.offset, true};
  return find_unit_in_database(text);
}

Unit find_unit_in_database(std::string_view text) {
  if (!looks_like_unit(text)) return {};
  // UDUNITS-2 keeps parser state of its own; one caller at a time.
  static std::mutex turn;
  const std::lock_guard<std::mutex> lock(turn);
  static Database database;
  return database.find(std::string(text));
}

}  // namespace tuft::casefile
