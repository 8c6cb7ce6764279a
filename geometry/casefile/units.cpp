#include "geometry/casefile/units.hpp"

#include <udunits2.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <map>
#include <memory>
#include <mutex>
#include <stdexcept>
#include <utility>

#include "geometry/casefile/text.hpp"

namespace tuft::casefile {
namespace {

constexpr double kPi = 3.14159265358979323846;
constexpr std::size_t kLongestUnit = 32;

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

// Units understood without the database. The dimensionless ones because UDUNITS would let them stand for one
// another, and here 5 % is no angle and 1 rad no share; the others because nearly every case file makes do
// with them, and need not wait for the database to load (a test holds them against it).
struct PlainUnit {
  Dimension dimension;
  double factor;
  double offset = 0.0;
};
const std::map<std::string_view, PlainUnit>& plain_units() {
  using D = Dimension;
  static const std::map<std::string_view, PlainUnit> units = {{"%", {D::share, 0.01}},
                                                              {"percent", {D::share, 0.01}},
                                                              {"deg", {D::angle, kPi / 180}},
                                                              {"°", {D::angle, kPi / 180}},
                                                              {"degree", {D::angle, kPi / 180}},
                                                              {"degrees", {D::angle, kPi / 180}},
                                                              {"rad", {D::angle, 1.0}},
                                                              {"mrad", {D::angle, 1e-3}},
                                                              {"rpm", {D::rotation, 1.0 / 60}},
                                                              {"RPM", {D::rotation, 1.0 / 60}},
                                                              {"rev/min", {D::rotation, 1.0 / 60}},
                                                              {"r/min", {D::rotation, 1.0 / 60}},
                                                              {"1/min", {D::rotation, 1.0 / 60}},
                                                              {"rev/s", {D::rotation, 1.0}},
                                                              {"rps", {D::rotation, 1.0}},
                                                              {"1/s", {D::rotation, 1.0}},
                                                              {"Hz", {D::rotation, 1.0}},
                                                              {"rad/s", {D::rotation, 0.5 / kPi}},
                                                              {"m", {D::length, 1.0}},
                                                              {"cm", {D::length, 0.01}},
                                                              {"mm", {D::length, 0.001}},
                                                              {"m2", {D::area, 1.0}},
                                                              {"cm2", {D::area, 1e-4}},
                                                              {"mm2", {D::area, 1e-6}},
                                                              {"m/s", {D::velocity, 1.0}},
                                                              {"cm/s", {D::velocity, 0.01}},
                                                              {"mm/s", {D::velocity, 0.001}},
                                                              {"m3/s", {D::volume_flow, 1.0}},
                                                              {"L/s", {D::volume_flow, 0.001}},
                                                              {"l/s", {D::volume_flow, 0.001}},
                                                              {"m3/h", {D::volume_flow, 1.0 / 3600}},
                                                              {"Pa", {D::pressure, 1.0}},
                                                              {"K", {D::temperature, 1.0}},
                                                              {"°C", {D::temperature, 1.0, 273.15}},
                                                              {"W", {D::power, 1.0}},
                                                              {"kW", {D::power, 1000.0}},
                                                              {"kg/m3", {D::density, 1.0}},
                                                              {"W/K", {D::conductance, 1.0}},
                                                              {"1/m", {D::inverse_length, 1.0}},
                                                              {"K/W", {D::resistance, 1.0}},
                                                              {"J/K", {D::capacity, 1.0}},
                                                              {"J/(m2 K)", {D::areal_capacity, 1.0}},
                                                              {"J/m2/K", {D::areal_capacity, 1.0}},
                                                              {"W/(m2 K)", {D::film, 1.0}},
                                                              {"W/m2/K", {D::film, 1.0}},
                                                              {"W/(m K)", {D::conductivity, 1.0}},
                                                              {"W/m/K", {D::conductivity, 1.0}},
                                                              {"s", {D::time, 1.0}},
                                                              {"min", {D::time, 60.0}},
                                                              {"h", {D::time, 3600.0}}};
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

// UDUNITS measures a few things no key asks for; naming them makes the message.
struct Measured {
  const char* si;
  Dimension dimension;
  const char* what;
};
constexpr Measured kMeasured[] = {{"m", Dimension::length, nullptr},
                                  {"m2", Dimension::area, nullptr},
                                  {"m/s", Dimension::velocity, nullptr},
                                  {"m3/s", Dimension::volume_flow, nullptr},
                                  {"Pa", Dimension::pressure, nullptr},
                                  {"K", Dimension::temperature, nullptr},
                                  {"W", Dimension::power, nullptr},
                                  {"kg/m3", Dimension::density, nullptr},
                                  {"W/K", Dimension::conductance, nullptr},
                                  {"1/m", Dimension::inverse_length, nullptr},
                                  {"K/W", Dimension::resistance, nullptr},
                                  {"J/K", Dimension::capacity, nullptr},
                                  {"J/(m2 K)", Dimension::areal_capacity, nullptr},
                                  {"W/(m2 K)", Dimension::film, nullptr},
                                  {"W/(m K)", Dimension::conductivity, nullptr},
                                  {"s", Dimension::time, nullptr},
                                  {"m3", Dimension::other, "a volume"},
                                  {"kg", Dimension::other, "a mass"},
                                  {"kg/s", Dimension::other, "a mass flow"},
                                  {"J", Dimension::other, "an energy"},
                                  {"N", Dimension::other, "a force"},
                                  {"A", Dimension::other, "a current"},
                                  {"V", Dimension::other, "a voltage"},
                                  {"C", Dimension::other, "an electric charge"},
                                  {"F", Dimension::other, "an electric capacitance"},
                                  {"m/s2", Dimension::other, "an acceleration"},
                                  {"W/m2", Dimension::other, "a power per area"},
                                  {"Pa s", Dimension::other, "a viscosity"},
                                  {"1/s", Dimension::other, "a frequency"},
                                  {"rad", Dimension::other, "a number with a dimensionless unit"}};

struct FreeSystem {
  void operator()(ut_system* system) const { ut_free_system(system); }
};
struct FreeUnit {
  void operator()(ut_unit* unit) const { ut_free(unit); }
};
struct FreeConverter {
  void operator()(cv_converter* converter) const { cv_free(converter); }
};
using UnitPointer = std::unique_ptr<ut_unit, FreeUnit>;

// The unit database with the texts already understood. Loading takes about 10 ms, so it is done once.
class Database {
 public:
  Database() {
    ut_set_error_message_handler(ut_ignore);  // it would print to stderr
    system_.reset(ut_read_xml(nullptr));
    if (!system_) throw std::runtime_error("the unit database of UDUNITS-2 (udunits2.xml) can't be read");
    for (std::size_t i = 0; i < std::size(kMeasured); ++i) {
      si_[i].reset(ut_parse(system_.get(), kMeasured[i].si, UT_UTF8));
    }
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
    for (std::size_t i = 0; i < std::size(kMeasured); ++i) {
      if (ut_are_convertible(unit.get(), si_[i].get()) == 0) continue;
      const Unit found = converted(*unit, i);
      if (found.known) return found;  // to UDUNITS a reciprocal is convertible too: s/m to m/s
    }
    if (has_offset(*unit)) return {};
    Unit other;
    other.known = true;
    other.what = "of another kind";
    return other;
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
    const std::unique_ptr<cv_converter, FreeConverter> to_si(ut_get_converter(&unit, si_[kind].get()));
    if (!to_si) return {};
    Unit out;
    out.dimension = kMeasured[kind].dimension;
    out.what = kMeasured[kind].what ? kMeasured[kind].what : dimension_info(out.dimension).article;
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

  std::unique_ptr<ut_system, FreeSystem> system_;
  std::array<UnitPointer, std::size(kMeasured)> si_;
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
  for (const DimensionInfo& info : kDimensions) {
    if (info.dimension == dimension) return info;
  }
  return kDimensions[std::size(kDimensions) - 1];
}

Unit find_unit(std::string_view text) {
  const auto plain = plain_units().find(text);
  if (plain == plain_units().end()) return find_unit_in_database(text);
  const PlainUnit& found = plain->second;
  return {found.dimension, dimension_info(found.dimension).article, found.factor, found.offset, true};
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
