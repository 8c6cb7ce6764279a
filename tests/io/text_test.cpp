// Names and numbers as text: widths, escapes, digits.
#include <catch2/catch.hpp>

#include "tools/io/folder.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/utf8.hpp"

using namespace tuft::io;

TEST_CASE("widths are those of a terminal") {
  CHECK(display_width("vent") == 4);
  CHECK(display_width("Lüfter") == 6);
  CHECK(display_width("u\u0308ber") == 4);  // u and a combining diaeresis
  CHECK(display_width("通風口") == 6);      // wide characters
  CHECK(display_width(shortened("通風口通風口", 5)) <= 5);
  CHECK(shortened("a-long-name", 6) == "a-lon…");
  CHECK(shortened("short", 6) == "short");
  CHECK(pad_right("通", 4) == "通  ");
  CHECK(pad_left("ü", 3) == "  ü");
}

TEST_CASE("hostile names cannot steer a terminal") {
  CHECK(printable("a\x1b[31mb") == "a\\x1b[31mb");
  CHECK(printable("a\nb\tc") == "a\\nb\\tc");
  CHECK(printable("a\u202Eb") == "a\\u202eb");
  CHECK(printable(std::string("a\0b", 3)) == "a\\x00b");
  CHECK(printable("a\xFF"
                  "b") == "a\uFFFDb");
  CHECK(valid_utf8("\xC0\xAF") == "\uFFFD\uFFFD");                      // overlong
  CHECK(valid_utf8("\xED\xA0\x80").find('\xED') == std::string::npos);  // surrogate
  CHECK(valid_utf8("\xE2\x82") == "\uFFFD\uFFFD");                      // cut short
  CHECK(valid_utf8("€") == "€");
}

TEST_CASE("numbers have the digits a person can use") {
  CHECK(significant(42.345, 3) == "42.3");
  CHECK(significant(9.996, 3) == "10.0");
  CHECK(significant(1234.5, 3) == "1234");
  CHECK(significant(0.012345, 3) == "0.0123");
  CHECK(significant(0.0, 3) == "0");
  CHECK(significant(-1e-9, 3) == "0");
  CHECK(signed_significant(1.5, 2) == "+1.5");
  CHECK(signed_significant(-1.5, 2) == "-1.5");
  CHECK(percent_text(0.6234) == "62.3 %");
  CHECK(percent_text(0.0456) == "4.6 %");
  CHECK(degrees_text(3.14159265358979323846 / 12.0) == "15°");
  CHECK(degrees_text(0.2) == "11.5°");
}

TEST_CASE("a quantity has one unit, large or small") {
  constexpr UnitSystem metric = UnitSystem::metric, inch = UnitSystem::inch;
  CHECK(pressure_text(12.34, metric) == "+12.3 Pa");
  CHECK(pressure_text(-0.01234, metric) == "-0.0123 Pa");
  CHECK(flow_text(2.346e-3, metric) == "2.35 L/s");
  CHECK(flow_text(2.3e-6, metric) == "0.00230 L/s");
  CHECK(flow_text(0.0, metric) == "0 L/s");
  CHECK(temperature_text(294.15, metric) == "21.0 °C");
  CHECK(temperature_text(273.13, metric) == "0.0 °C");
  CHECK(speed_text(0.0123, metric) == "0.0123 m/s");
  CHECK(length_text(0.16, metric, 2) == "160 mm");
  CHECK(length_text(0.002, metric) == "2 mm");
  // Derived from 1 in = 25.4 mm and 1 ft = 12 in, exact by definition; 0 °C is 32 °F.
  CHECK(flow_text(0.3048 * 0.3048 * 0.3048 / 60.0, inch) == "1.00 cfm");
  CHECK(speed_text(0.3048 / 60.0, inch) == "1.00 ft/min");
  CHECK(length_text(0.0508, inch) == "2 in");
  CHECK(temperature_text(273.15, inch) == "32.0 °F");
  CHECK(temperature_text(373.15, inch) == "212.0 °F");
  CHECK(difference_text(-10.0, inch) == "18 °F");
  CHECK(pressure_text(0.5, inch) == "+0.500 Pa");
}

TEST_CASE("decimal points stand below each other") {
  CHECK(align_points({"-42", "+0.012", "0"}) == std::vector<std::string>{"-42    ", " +0.012", "  0    "});
  CHECK(align_points({"1", "20"}) == std::vector<std::string>{" 1", "20"});
}

TEST_CASE("columns line up and colour changes no width") {
  const std::vector<Column> columns = {{"vent", "", {"通風", "b"}, false, {Ink::blue, Ink::red}},
                                       {"flow", "L/s", {"1.5", "20"}, true}};
  Look plain;
  CHECK(lay_out(columns, 2, plain) == "  vent  flow\n         L/s\n  通風   1.5\n  b     20\n");
  Look colour;
  colour.colour = true;
  const std::string inked_text = lay_out(columns, 2, colour);
  CHECK(inked_text.find("\x1b[34m通風\x1b[0m") != std::string::npos);
}

TEST_CASE("long sentences are filled into lines") {
  CHECK(fill("  ", "one two three", 9) == "  one two\n  three\n");
  CHECK(fill("- ", "unbreakable-word", 5) == "- unbreakable-word\n");
}

TEST_CASE("file names are safe and differ") {
  CHECK(file_name_of("use") == "use");
  CHECK(file_name_of("../../etc/passwd") == "etc-passwd");
  CHECK(file_name_of("a/b c") == "a-b-c");
  CHECK(file_name_of("") == "unnamed");
  CHECK(file_name_of("..") == "unnamed");
  CHECK(file_name_of("CON") == "_CON");
  CHECK(file_name_of("lpt1") == "_lpt1");
  CHECK(file_name_of(std::string(300, 'x')).size() == 60);
  CHECK(file_name_of(std::string("a\0b", 3)) == "a-b");
  CHECK(file_name_of("Größe 3/4") == "Größe-3-4");
  CHECK(file_name_of("ノート/パソコン") == "ノート-パソコン");
  CHECK(file_name_of("\u202egnp.exe") == "gnp-exe");
  CHECK(file_name_of("bad \xFF byte") == "bad-byte");
  CHECK(file_name_of("\u2014") == "unnamed");
  const std::string cut = file_name_of(std::string(59, 'x') + "ß");
  CHECK(cut == std::string(59, 'x'));  // never half a letter
  CHECK(file_names_of({"Ärger", "ärger"}) == std::vector<std::string>{"Ärger", "ärger-2"});
  CHECK(file_names_of({"a b", "a/b", "A-B", "a-b-2"}) ==
        std::vector<std::string>{"a-b", "a-b-2", "A-B-3", "a-b-2-2"});
}

// FIPS 180-4 examples as published by NIST ("abc" and the two-block message); from memory, and equal to what
// the coreutils program sha256sum prints.
TEST_CASE("SHA-256 digests") {
  CHECK(sha256("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  CHECK(sha256("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  CHECK(sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
}
