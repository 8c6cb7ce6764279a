// Units: what they measure and how they convert. Expected values are definitions of the units (SI brochure;
// the foot is 0.3048 m, the inch 25.4 mm) or follow from them by the arithmetic shown.
#include "geometry/casefile/units.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <random>
#include <string>
#include <vector>

using tuft::casefile::Dimension;
using tuft::casefile::find_unit;
using tuft::casefile::find_unit_in_database;
using tuft::casefile::Unit;

namespace {

struct Known {
  const char* text;
  Dimension dimension;
  double factor;
  double offset = 0.0;
};

constexpr double kPi = 3.14159265358979323846;

const std::vector<Known> kKnown = {
    {"mm", Dimension::length, 1e-3},
    {"cm", Dimension::length, 1e-2},
    {"in", Dimension::length, 0.0254},
    {"inch", Dimension::length, 0.0254},
    {"ft", Dimension::length, 0.3048},
    {"µm", Dimension::length, 1e-6},
    {"cm2", Dimension::area, 1e-4},
    {"cm²", Dimension::area, 1e-4},
    {"mm^2", Dimension::area, 1e-6},
    {"L/s", Dimension::volume_flow, 1e-3},
    {"m³/h", Dimension::volume_flow, 1.0 / 3600},
    {"m3/h", Dimension::volume_flow, 1.0 / 3600},
    {"cfm", Dimension::volume_flow, 0.3048 * 0.3048 * 0.3048 / 60},
    {"CFM", Dimension::volume_flow, 0.3048 * 0.3048 * 0.3048 / 60},
    {"lpm", Dimension::volume_flow, 1e-3 / 60},
    {"mL/min", Dimension::volume_flow, 1e-6 / 60},
    {"Pa", Dimension::pressure, 1.0},
    {"hPa", Dimension::pressure, 100.0},
    {"mmH2O", Dimension::pressure, 9.80665},
    {"mmH₂O", Dimension::pressure, 9.80665},
    {"inH2O", Dimension::pressure, 25.4 * 9.80665},
    {"mbar", Dimension::pressure, 100.0},
    {"rpm", Dimension::rotation, 1.0 / 60},
    {"rev/s", Dimension::rotation, 1.0},
    {"1/min", Dimension::rotation, 1.0 / 60},
    {"Hz", Dimension::rotation, 1.0},
    {"rad/s", Dimension::rotation, 0.5 / kPi},
    {"W", Dimension::power, 1.0},
    {"mW", Dimension::power, 1e-3},
    {"°C", Dimension::temperature, 1.0, 273.15},
    {"degC", Dimension::temperature, 1.0, 273.15},
    {"deg C", Dimension::temperature, 1.0, 273.15},
    {"K", Dimension::temperature, 1.0},
    {"°F", Dimension::temperature, 5.0 / 9, 459.67 * 5 / 9},
    {"%", Dimension::share, 0.01},
    {"deg", Dimension::angle, kPi / 180},
    {"°", Dimension::angle, kPi / 180},
    {"rad", Dimension::angle, 1.0},
    {"m/s", Dimension::velocity, 1.0},
    {"mm/s", Dimension::velocity, 1e-3},
    {"fpm", Dimension::velocity, 0.3048 / 60},
    {"kg/m3", Dimension::density, 1.0},
    {"g/cm3", Dimension::density, 1000.0},
    {"W/K", Dimension::conductance, 1.0},
    {"W/°C", Dimension::conductance, 1.0},
    {"1/m", Dimension::inverse_length, 1.0},
    {"m-1", Dimension::inverse_length, 1.0},
    {"K/W", Dimension::resistance, 1.0},
    {"°C/W", Dimension::resistance, 1.0},
    {"K/kW", Dimension::resistance, 1e-3},
    {"J/K", Dimension::capacity, 1.0},
    {"kJ/K", Dimension::capacity, 1000.0},
    {"W s/K", Dimension::capacity, 1.0},
    {"J/(m2 K)", Dimension::areal_capacity, 1.0},
    {"J/m2/K", Dimension::areal_capacity, 1.0},
    {"J/(cm2 K)", Dimension::areal_capacity, 1e4},
    {"W/(m2 K)", Dimension::film, 1.0},
    {"W/m²/K", Dimension::film, 1.0},
    {"W/m2/K", Dimension::film, 1.0},
    {"W/(m K)", Dimension::conductivity, 1.0},
    {"W/m/K", Dimension::conductivity, 1.0},
    {"W/(m·K)", Dimension::conductivity, 1.0},
    {"s", Dimension::time, 1.0},
    {"min", Dimension::time, 60.0},
    {"h", Dimension::time, 3600.0},
    {"ms", Dimension::time, 1e-3},
};

}  // namespace

TEST_CASE("units convert to SI") {
  for (const Known& known : kKnown) {
    CAPTURE(known.text);
    const Unit unit = find_unit(known.text);
    REQUIRE(unit.known);
    CHECK(unit.dimension == known.dimension);
    CHECK(unit.factor == Approx(known.factor).epsilon(1e-12));
    CHECK(unit.offset == Approx(known.offset).epsilon(1e-12).margin(1e-12));
  }
}

TEST_CASE("the units kept at hand are those of the database") {
  for (const char* text :
       {"m",   "cm",       "mm",     "m2",       "cm2",    "mm2",     "m/s",   "cm/s",  "mm/s", "m3/s", "L/s",
        "l/s", "m3/h",     "Pa",     "K",        "°C",     "W",       "kW",    "kg/m3", "W/K",  "1/m",  "K/W",
        "J/K", "J/(m2 K)", "J/m2/K", "W/(m2 K)", "W/m2/K", "W/(m K)", "W/m/K", "s",     "min",  "h"}) {
    CAPTURE(text);
    const Unit near = find_unit(text);
    const Unit far = find_unit_in_database(text);
    REQUIRE(far.known);
    CHECK(near.dimension == far.dimension);
    CHECK(near.factor == Approx(far.factor).epsilon(1e-14));
    CHECK(near.offset == Approx(far.offset).epsilon(1e-14));
  }
}

TEST_CASE("what is no unit is refused") {
  for (const char* text : {"",
                           " ",
                           "mmm",
                           "foo",
                           "mm 3",
                           "3 mm",
                           "\"",
                           "'",
                           "m--2",
                           "m//s",
                           "/s",
                           "m/",
                           "m*3",
                           "m^",
                           "lg(re 1 mW)",
                           "s since 1970-01-01",
                           "K @ 273",
                           "m2/s/s/s/s/s/s/s/s/s/s/s/s/s/s/s/s/s/s/s/s/s",
                           "m^999999999",
                           "((m",
                           "mm;rm",
                           "\xff",
                           "\t"}) {
    CAPTURE(text);
    CHECK_FALSE(find_unit(text).known);
  }
}

TEST_CASE("units are named by what they measure") {
  CHECK(find_unit("Pa").what == "a pressure");
  CHECK(find_unit("L/s").what == "a volume flow");
  CHECK(find_unit("C").what == "an electric charge");
  CHECK(find_unit("s").what == "a time");
  CHECK(find_unit("kg/s").what == "a mass flow");
  CHECK(find_unit("W/(m2 K)").what == "a heat transfer coefficient");
  CHECK(find_unit("15%").known == false);
}

TEST_CASE("no text makes the unit reader fail") {
  std::mt19937 random(20240117);
  const std::string letters = "mkgWPaKsLh/*^.-()0123456789 %°²³µ@\"'#;\\\x01\xC2\xE2\xFF";
  std::uniform_int_distribution<std::size_t> pick(0, letters.size() - 1);
  std::uniform_int_distribution<int> length(0, 40);
  for (int i = 0; i < 5000; ++i) {
    std::string text;
    for (int n = length(random); n > 0; --n) text += letters[pick(random)];
    const Unit unit = find_unit(text);
    if (unit.known) CHECK(std::isfinite(unit.factor));
  }
}
