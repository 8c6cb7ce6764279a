#include "geometry/casefile/quantity.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <random>
#include <string>

using tuft::casefile::Dimension;
using tuft::casefile::Quantity;
using tuft::casefile::read_quantity;
using tuft::casefile::write_quantity;
using tuft::geometry::SpreadKind;
using tuft::geometry::Value;

namespace {

void check(const std::string& text, Dimension dimension, SpreadKind kind, double nominal, double low,
           double high) {
  CAPTURE(text);
  const Quantity read = read_quantity(text, dimension);
  CAPTURE(read.fault);
  REQUIRE(read.ok());
  CHECK(read.value.spread == kind);
  CHECK(*read.value == Approx(nominal).epsilon(1e-12));
  CHECK(read.value.low == Approx(low).epsilon(1e-12));
  CHECK(read.value.high == Approx(high).epsilon(1e-12));
}

std::string fault(const std::string& text, Dimension dimension) {
  const Quantity read = read_quantity(text, dimension);
  return read.hint.empty() ? read.fault : read.fault + "; " + read.hint;
}

}  // namespace

TEST_CASE("plain quantities") {
  check("35 W", Dimension::power, SpreadKind::none, 35, 35, 35);
  check("35W", Dimension::power, SpreadKind::none, 35, 35, 35);
  check("  1.5e2 mm ", Dimension::length, SpreadKind::none, 0.15, 0.15, 0.15);
  check(".5 mm", Dimension::length, SpreadKind::none, 5e-4, 5e-4, 5e-4);
  check("-3 deg", Dimension::angle, SpreadKind::none, -M_PI / 60, -M_PI / 60, -M_PI / 60);
  check("\u22123 deg", Dimension::angle, SpreadKind::none, -M_PI / 60, -M_PI / 60, -M_PI / 60);
  check("0 mm", Dimension::length, SpreadKind::none, 0, 0, 0);
  check("0.42", Dimension::share, SpreadKind::none, 0.42, 0.42, 0.42);
  check("42 %", Dimension::share, SpreadKind::none, 0.42, 0.42, 0.42);
  check("2", Dimension::number, SpreadKind::none, 2, 2, 2);
  check("4600 1/min", Dimension::rotation, SpreadKind::none, 4600.0 / 60, 4600.0 / 60, 4600.0 / 60);
  check("4.5e-9 m2", Dimension::permeability, SpreadKind::none, 4.5e-9, 4.5e-9, 4.5e-9);
  check("21 °C", Dimension::temperature, SpreadKind::none, 294.15, 294.15, 294.15);
  check("70 °F", Dimension::temperature, SpreadKind::none, (70 + 459.67) * 5 / 9, (70 + 459.67) * 5 / 9,
        (70 + 459.67) * 5 / 9);
}

TEST_CASE("a normal spread is the central 95 %") {
  check("35 W ± 10 %", Dimension::power, SpreadKind::normal, 35, 31.5, 38.5);
  check("35 W +- 3 W", Dimension::power, SpreadKind::normal, 35, 32, 38);
  check("35 W +/- 500 mW", Dimension::power, SpreadKind::normal, 35, 34.5, 35.5);
  check("35 ± 3 W", Dimension::power, SpreadKind::normal, 35, 32, 38);
  check("21 °C ± 1 K", Dimension::temperature, SpreadKind::normal, 294.15, 293.15, 295.15);
  check("21 °C ± 1 °C", Dimension::temperature, SpreadKind::normal, 294.15, 293.15, 295.15);
  check("21 °C ± 1.8 °F", Dimension::temperature, SpreadKind::normal, 294.15, 293.15, 295.15);
  check("1 ± 35 %", Dimension::number, SpreadKind::normal, 1, 0.65, 1.35);
  check("35 W ± 0 W", Dimension::power, SpreadKind::none, 35, 35, 35);
}

TEST_CASE("of a share, percent are points") {
  check("42 % ± 5 %", Dimension::share, SpreadKind::normal, 0.42, 0.37, 0.47);
  check("42 ± 5 %", Dimension::share, SpreadKind::normal, 0.42, 0.37, 0.47);
  check("0.42 ± 0.05", Dimension::share, SpreadKind::normal, 0.42, 0.37, 0.47);
  check("0.42 ± 5 %", Dimension::share, SpreadKind::normal, 0.42, 0.37, 0.47);
}

TEST_CASE("ranges and factors") {
  check("3..5 mm", Dimension::length, SpreadKind::uniform, 4e-3, 3e-3, 5e-3);
  check("3 mm..0.5 cm", Dimension::length, SpreadKind::uniform, 4e-3, 3e-3, 5e-3);
  check("3 .. 5 mm", Dimension::length, SpreadKind::uniform, 4e-3, 3e-3, 5e-3);
  check("3..4..5 mm", Dimension::length, SpreadKind::triangular, 4e-3, 3e-3, 5e-3);
  check("0..0..10 %", Dimension::share, SpreadKind::triangular, 0, 0, 0.1);
  check("-5..5 deg", Dimension::angle, SpreadKind::uniform, 0, -M_PI / 36, M_PI / 36);
  check("18..21..25 °C", Dimension::temperature, SpreadKind::triangular, 294.15, 291.15, 298.15);
  check("0.2..0.4", Dimension::share, SpreadKind::uniform, 0.3, 0.2, 0.4);
  check("4..4 mm", Dimension::length, SpreadKind::none, 4e-3, 4e-3, 4e-3);
  check("2 mm */ 3", Dimension::length, SpreadKind::log_uniform, 2e-3, 2e-3 / 3, 6e-3);
  check("2 mm */ 1", Dimension::length, SpreadKind::none, 2e-3, 2e-3, 2e-3);
}

TEST_CASE("five numbers or more are steps, as likely between any two") {
  const Quantity read = read_quantity("2..3..4..6..9 mm", Dimension::length);
  REQUIRE(read.ok());
  CHECK(read.value.spread == SpreadKind::steps);
  CHECK(*read.value == Approx(4e-3));
  CHECK(read.value.low == Approx(2e-3));
  CHECK(read.value.high == Approx(9e-3));
  REQUIRE(read.steps.size() == 5);
  CHECK(read.steps[3] == Approx(6e-3));
  CHECK(write_quantity(read.value, "mm", read.steps) == "2..3..4..6..9 mm");
  const Quantity warm = read_quantity("20..21..21.5..22..25 °C", Dimension::temperature);
  REQUIRE(warm.ok());
  CHECK(write_quantity(warm.value, "°C", warm.steps) == "20..21..21.5..22..25 °C");
  CHECK(read_quantity("3..4..5 mm", Dimension::length).steps.empty());
  CHECK(fault("1..2..3..4..5..6 mm", Dimension::length) ==
        "'1..2..3..4..5..6 mm' is not a range; write 3..5 mm, or 3..4..5 mm with the likeliest value");
  CHECK(fault("1..2..3..2..5 mm", Dimension::length) ==
        "the range '1..2..3..2..5 mm' does not rise; write the smaller value first");
}

TEST_CASE("faulty quantities say what is wrong") {
  CHECK(fault("20 Pa", Dimension::volume_flow) ==
        "'20 Pa' is a pressure, expected a volume flow (L/s, m3/h, cfm)");
  CHECK(fault("20", Dimension::length) == "'20' has no unit; expected a length (mm, cm, m, in)");
  CHECK(fault("20 mm", Dimension::number) == "'20 mm' is a length, expected a number (no unit)");
  CHECK(fault("42", Dimension::share) == "'42' is a share above 1; write 42 %");
  CHECK(fault("15 %", Dimension::angle) == "'15 %' is a share, expected an angle (deg, °, rad)");
  CHECK(fault("1 rad", Dimension::share) ==
        "'1 rad' is an angle, expected a share (%, or a bare number from 0 to 1)");
  CHECK(fault("21 C", Dimension::temperature) ==
        "'21 C' is an electric charge, expected a temperature (°C, K, °F); write °C");
  CHECK(fault("21 °C ± 5 %", Dimension::temperature) ==
        "the spread of a temperature is a difference, not a share of it; write ± 1 K");
  CHECK(fault("21 °C */ 2", Dimension::temperature) ==
        "'21 °C' can't have a spread by a factor; write ± and a difference");
  CHECK(fault("0 mm */ 2", Dimension::length) ==
        "'0 mm' can't have a spread by a factor; write ± and a difference");
  CHECK(fault("5..3 mm", Dimension::length) ==
        "the range '5..3 mm' does not rise; write the smaller value first");
  CHECK(fault("1..2..3..4 mm", Dimension::length) ==
        "'1..2..3..4 mm' is not a range; write 3..5 mm, or 3..4..5 mm with the likeliest value");
  CHECK(fault("35 W ± -3 W", Dimension::power) == "the spread '-3 W' is negative");
  CHECK(fault("35 W ± 3", Dimension::power) == "the spread '3' has no unit; write ± 3 W or ± 3 %");
  CHECK(fault("35 W ± 3 K", Dimension::power) == "'3 K' is a temperature, expected a power (W, mW)");
  CHECK(fault("1..2 mm ± 1 mm", Dimension::length) ==
        "'1..2 mm ± 1 mm' has more than one kind of spread; write one of ±, .. and */");
  CHECK(fault("1 mm */ 2 mm", Dimension::length) ==
        "the factor '2 mm' after */ is not a number from 1 to 1e6");
}

TEST_CASE("what is no number is no quantity") {
  for (const char* text :
       {"",         " ",        "mm",     ".nan mm",  "nan",      ".inf",   "inf mm", "yes",
        "on",       "~",        "null",   "0x10 mm",  "010 mm",   "00 mm",  "1,5 mm", "1'000 mm",
        "1_000 mm", "1 000 mm", "--1 mm", "+-1 mm",   "1e999 mm", "1e mm",  "± 3 W",  "35 W ±",
        "..",       "3..",      "..5 mm", "3...5 mm", "*/ 2",     "1:30 h", "½ mm",   "٣ mm"}) {
    CAPTURE(text);
    CHECK_FALSE(read_quantity(text, Dimension::length).ok());
  }
}

TEST_CASE("a written quantity reads back") {
  struct Case {
    Value value;
    const char* unit;
    Dimension dimension;
    const char* text;
  };
  const Case cases[] = {
      {Value(0.0125), "mm", Dimension::length, "12.5 mm"},
      {Value(294.15, SpreadKind::normal, 293.15, 295.15), "°C", Dimension::temperature, "21 °C ± 1 K"},
      {Value(0.4, SpreadKind::triangular, 0.25, 0.55), "%", Dimension::share, "25..40..55 %"},
      {Value(4e-3, SpreadKind::uniform, 3e-3, 5e-3), "mm", Dimension::length, "3..5 mm"},
      {Value(20e-6, SpreadKind::log_uniform, 20e-6 / 3, 60e-6), "mm2", Dimension::area, "20 mm2 */ 3"},
      {Value(75.0), "rpm", Dimension::rotation, "4500 rpm"},
      {Value(1.0, SpreadKind::normal, 0.65, 1.35), "", Dimension::number, "1 ± 0.35"}};
  for (const Case& one : cases) {
    CHECK(write_quantity(one.value, one.unit) == one.text);
    const Quantity back = read_quantity(one.text, one.dimension);
    REQUIRE(back.ok());
    CHECK(back.value.spread == one.value.spread);
    CHECK(*back.value == Approx(*one.value));
    CHECK(back.value.low == Approx(one.value.low));
    CHECK(back.value.high == Approx(one.value.high));
  }
}

TEST_CASE("no text makes the quantity reader fail, and what it reads is ordered") {
  std::mt19937 random(7);
  const std::string letters = "0123456789..±+-*/ %eEmW°C,";
  std::uniform_int_distribution<std::size_t> pick(0, letters.size() - 1);
  std::uniform_int_distribution<int> length(0, 25);
  int understood = 0;
  for (int i = 0; i < 20000; ++i) {
    std::string text = i % 2 == 0 ? "3 " : "";
    for (int n = length(random); n > 0; --n) text += letters[pick(random)];
    if (i % 2 == 0) text += " mm";
    for (const Dimension dimension : {Dimension::length, Dimension::share, Dimension::temperature}) {
      const Quantity read = read_quantity(text, dimension);
      if (!read.ok()) continue;
      ++understood;
      CAPTURE(text);
      REQUIRE(std::isfinite(*read.value));
      REQUIRE(read.value.low <= *read.value);
      REQUIRE(*read.value <= read.value.high);
    }
  }
  CHECK(understood > 50);
}
