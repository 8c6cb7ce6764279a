// Values written as word processors, other languages and data sheets write them: each gets the message that
// says how to write it here, and none is read as something else.
#include <catch2/catch.hpp>

#include <string>
#include <vector>

#include "geometry/casefile/meant.hpp"
#include "geometry/casefile/quantity.hpp"
#include "tests/casefile/helpers.hpp"

using namespace tuft::casefile;
using namespace tuft::casefile::test;
using Catch::Matchers::Contains;

namespace {

struct Written {
  const char* text;
  Dimension wanted;
  const char* hint;   ///< how to write it
  const char* wrong;  ///< what is told of it
};

constexpr Written kWritten[] = {
    {"10\u00A0W", Dimension::power, "write 10 W", "has a non-breaking blank"},
    {"10\u202FW", Dimension::power, "write 10 W", "has a non-breaking blank"},
    {"\u201C10 W\u201D", Dimension::power, "write 10 W", "has curly quotes"},
    {"10,5 W", Dimension::power, "write 10.5 W", "has a decimal comma"},
    {"10\u201312 W", Dimension::power, "write 10..12 W", "has a dash for a range"},
    {"10 \u2013 12 W", Dimension::power, "write 10..12 W", "has a dash for a range"},
    {"10-12 W", Dimension::power, "write 10..12 W", "has a dash for a range"},
    {"1,5\u20132,5 mm", Dimension::length, "write 1.5..2.5 mm", "has a decimal comma and has a dash"},
    {"2.4\"", Dimension::length, "write 2.4 in", "has its unit in other letters"},
    {"2.4\u2033", Dimension::length, "write 2.4 in", "has its unit in other letters"},
    {"2.4\u201D", Dimension::length, "write 2.4 in", "inch"},
    {"10 w", Dimension::power, "write 10 W", "has its unit in other letters"},
    {"1,5 Watts", Dimension::power, "write 1.5 W", "has a decimal comma"},
    {"20 MM", Dimension::length, "write 20 mm", "has its unit in other letters"},
    {"20MM", Dimension::length, "write 20 mm", "has its unit in other letters"},
    {"4000 U/min", Dimension::rotation, "write 4000 rpm", "has its unit in other letters"},
    {"4000 Upm", Dimension::rotation, "write 4000 rpm", "has its unit in other letters"},
    {"20 M3/H", Dimension::volume_flow, "write 20 m3/h", "has its unit in other letters"},
};

// The first error of a small case in which one text stands for another.
std::string error_with(const std::string& written, const std::string& instead) {
  std::string text = small_case("sources: {chip: {}}\nloads: {on: {power: {chip: 10 W}}}\n");
  const std::size_t at = text.find(written);
  REQUIRE(at != std::string::npos);
  return first_error(text.replace(at, written.size(), instead));
}

}  // namespace

TEST_CASE("what was meant is said, and how to write it") {
  for (const Written& one : kWritten) {
    CAPTURE(one.text);
    const Quantity read = read_quantity(one.text, one.wanted);
    CHECK_FALSE(read.ok());
    CHECK(read.hint == one.hint);
    CHECK_THAT(read.fault, Contains(one.wrong));
    CHECK(read_quantity(std::string(one.hint).substr(6), one.wanted).ok());
  }
}

TEST_CASE("nothing is guessed where it could not be read either") {
  for (const char* text : {"ten watts", "10 horses", "10-12-14 W", "1e-3 parsecs", "-"}) {
    CAPTURE(text);
    const Quantity read = read_quantity(text, Dimension::power);
    CHECK_FALSE(read.ok());
    CHECK_THAT(read.hint, !Contains("write 1"));
  }
}

TEST_CASE("a list written as three lengths by times is shown as a list") {
  CHECK_THAT(error_with("[200 mm, 100 mm, 20 mm]", "117 x 112 x 41 mm"),
             Contains("write [117 mm, 112 mm, 41 mm]"));
  CHECK_THAT(error_with("[200 mm, 100 mm, 20 mm]", "117 mm \u00D7 112 mm \u00D7 41 mm"),
             Contains("write [117 mm, 112 mm, 41 mm]"));
  CHECK(split_by_times("11,7 x 11,2 x 4,1 cm") == std::vector<std::string>{"11.7 cm", "11.2 cm", "4.1 cm"});
  CHECK_THAT(error_with("[200 mm, 100 mm, 20 mm]", "117 x 112 mm"), !Contains("write ["));
}

TEST_CASE("decimal commas within a list are told from the commas between its items") {
  CHECK_THAT(error_with("[50 mm, 10 mm]", "[50,5 mm, 10 mm]"),
             Contains("write [50.5 mm, 10 mm]") && Contains("decimals stand after a point"));
  CHECK_THAT(error_with("[200 mm, 100 mm, 20 mm]", "[200,5 mm, 100 mm, 20,25 mm]"),
             Contains("write [200.5 mm, 100 mm, 20.25 mm]"));
  CHECK_THAT(error_with("[200 mm, 100 mm, 20 mm]", "[200 mm, 100 mm, 20 mm, 5 mm]"), !Contains("write ["));
}

TEST_CASE("a decimal comma between braces, which cuts a value in two, is told") {
  std::string text = small_case("sources: {chip: {}}\nloads: {on: {power: {chip: 10,5 W}}}\n");
  CHECK_THAT(messages(read(text)), Contains("write decimals after a point"));
  text = small_case("room: {temperature: 21,5 \u00B0C}\n");
  CHECK_THAT(messages(read(text)), Contains("write decimals after a point"));
}

TEST_CASE("names in curly quotes, and lines that a non-breaking blank indents") {
  CHECK_THAT(messages(read(small_case("sources: {\u201Cchip\u201D: {}}\n"))),
             Contains("write chip without curly quotes"));
  CHECK_THAT(messages(read(small_case("\u00A0sources: {chip: {}}\n"))), Contains("non-breaking blank"));
}
