// Grids of numbers as thermal cameras write them.
#include "tools/io/thermal_grid.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using Catch::Matchers::Contains;
using tuft::io::NumberGrid;
using tuft::io::read_grid;

TEST_CASE("rows of numbers are read in the ways they are written") {
  for (const char* text :
       {"21.5,22\n23,24.25\n30,31\n", "21,5;22\r\n23;24,25\r\n30;31", "21.5\t22\n23\t24.25\n30\t31\n",
        "\xEF\xBB\xBF"
        "Camera: X\nDate: today\n\n21.5, 22,\n23, 24.25,\n30, 31,\n",
        "  21.5 22\n 23   24.25\n30 31\n", "\"21.5\",\"22\"\n\"23\",\"24.25\"\n\"30\",\"31\"\n"}) {
    INFO(text);
    const NumberGrid grid = read_grid(text);
    CHECK(grid.fault == "");
    REQUIRE(grid.width == 2);
    REQUIRE(grid.height == 3);
    CHECK(grid.at(0, 0) == 21.5);
    CHECK(grid.at(1, 1) == 24.25);
    CHECK(grid.at(1, 2) == 31.0);
  }
  CHECK(read_grid("a\nb\n1,2\n3,4\n").heading == 2);
  CHECK(std::isnan(read_grid("1,,3\n4,5,6\n").at(1, 0)));
}

TEST_CASE("what is no grid says where") {
  CHECK_THAT(read_grid("1,2\n3\n").fault, Contains("line 2 has 1 numbers, and the first row 2"));
  CHECK_THAT(read_grid("1,2\n3,4\nend\n").fault, Contains("line 3 holds no row"));
  CHECK_THAT(read_grid("").fault, Contains("no rows of numbers"));
  CHECK_THAT(read_grid("just words\n").fault, Contains("no rows of numbers"));
  CHECK_THAT(read_grid("1,2\n").fault, Contains("no rows of numbers"));
  CHECK_FALSE(read_grid(std::string("%PDF-1.4\n\0\1\2", 12)).fault.empty());
}
