// What is wrong in a table of measured values is told with file, line and what was found.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>

#include "geometry/casefile/case_file.hpp"
#include "tools/measured/quantity.hpp"
#include "tools/measured/tables.hpp"

using namespace tuft::measured;
using Catch::Contains;
namespace fs = std::filesystem;

namespace {

const std::string kHeading = "case,condition,quantity,of,against,measured,low,high,unit,kind,source\n";

/// A file of its own, taken away at the end.
class Table {
 public:
  explicit Table(const std::string& text) : path_(fs::path(TUFT_BINARY_DIR) / "measured-values.csv") {
    std::ofstream(path_, std::ios::binary) << text;
  }
  ~Table() { fs::remove(path_); }
  Table(const Table&) = delete;
  Table& operator=(const Table&) = delete;

  std::vector<Value> values() const { return read_values(path_.string()); }
  std::vector<Trend> trends() const { return read_trends(path_.string()); }

 private:
  fs::path path_;
};

Value value(const std::string& quantity, const std::string& of, const std::string& unit) {
  return {"helium-two-vents", "steady", quantity, of, "", 1.0, 0.5, 1.5, unit, true, ""};
}

tuft::geometry::Case box() {
  return tuft::casefile::read_case(TUFT_SOURCE_DIR "/cases/measured/helium-two-vents.yaml").file.content;
}

Compared compared(double measured, double low, double high) {
  Compared row;
  row.value = value("air", "inside", "K");
  row.value.measured = measured, row.value.low = 0.9 * measured, row.value.high = 1.1 * measured;
  row.low = low, row.high = high;
  return row;
}

}  // namespace

TEST_CASE("a row of measured values, commas in its last column and all") {
  const auto rows = Table(kHeading + "box,on,air,inside,,39.3,37.5,41.1,K,counts,mean, of seven\n").values();
  REQUIRE(rows.size() == 1);
  CHECK(rows[0].file == "box");
  CHECK(rows[0].measured == 39.3);
  CHECK(rows[0].counts);
  CHECK(rows[0].source == "mean, of seven");
}

TEST_CASE("rows of measured values that can't be are refused, with the line") {
  const auto row = [](const std::string& text) { return Table(kHeading + text + "\n"); };
  CHECK_THROWS_WITH(Table("case\n").values(), Contains(":1: the heading is 'case'"));
  CHECK_THROWS_WITH(row("box,on,air").values(), Contains(":2: 3 columns, not 11"));
  CHECK_THROWS_WITH(row("box,on,air,inside,,many,1,2,K,counts,x").values(),
                    Contains(":2: 'many' is no number"));
  CHECK_THROWS_WITH(row("box,on,air,inside,,3,1,2,K,counts,x").values(), Contains("the range does not hold"));
  CHECK_THROWS_WITH(row("box,on,air,inside,,1.5,1,2,K,perhaps,x").values(),
                    Contains("'perhaps' is neither 'counts' nor 'trend'"));
  CHECK_THROWS_WITH(Table("case,claim,published\nbox,cools,maybe\n").trends(),
                    Contains(":2: 'maybe' is neither 'true' nor 'false'"));
}

TEST_CASE("quantities, names and units that do not go together are refused") {
  const auto content = box();
  CHECK(quantity_of(content, value("air-at-600s", "inside", "K")).time == 600.0);
  CHECK_THROWS_WITH(quantity_of(content, value("pressure", "inside", "K")), Contains("unknown quantity"));
  CHECK_THROWS_WITH(quantity_of(content, value("air", "outside", "K")), Contains("unknown name"));
  CHECK_THROWS_WITH(quantity_of(content, value("flow-out", "upper", "K")), Contains("the unit is g/s"));
  CHECK_THROWS_WITH(quantity_of(content, value("flow-out-at-60s", "upper", "g/s")),
                    Contains("only temperatures"));
  Value against = value("flow-out", "upper", "%");
  against.against = "middle";
  CHECK_THROWS_WITH(quantity_of(content, against), Contains("neither condition nor vent"));
}

TEST_CASE("coverage counts what lies within the interval, and what overlaps it, of what counts") {
  std::vector<Compared> rows = {compared(10.0, 9.5, 11.0), compared(10.0, 10.5, 12.0),
                                compared(10.0, 12.0, 13.0)};
  rows.push_back(compared(10.0, 9.0, 11.0));
  rows.back().value.counts = false;
  const Coverage covered = coverage(rows);
  CHECK(covered.counted == 3);
  CHECK(covered.inside == 1);
  CHECK(covered.touched == 2);
  CHECK(with_coverage("it holds 7 of 12 measured values, of measured values", rows) ==
        "it holds 1 of 3 measured values, of measured values");
}
