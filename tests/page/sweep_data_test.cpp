// What a page carries of a sweep.
#include "tools/page/sweep_data.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

using Json = nlohmann::ordered_json;
using tuft::page::carried_points;
using tuft::page::carried_sweep;
using tuft::page::CarriedPoints;

namespace {

Json vent(const char* role, double flow) {
  return {{"vent", "a"},         {"role", role},        {"firm", true},
          {"share", flow / 3.0}, {"inflow_kg_s", flow}, {"span_head_Pa", 1.0}};
}

/// In steps of a degree: takes air in, from `turns` degrees on lets it out, and in between at single angles.
Json points(std::size_t count, std::size_t turns) {
  Json list = Json::array();
  for (std::size_t i = 0; i < count; ++i)
    list.push_back({{"angle_deg", static_cast<double>(i)},
                    {"solved", true},
                    {"room_density_kg_m3", 1.2},
                    {"vents", Json::array({vent(i < turns ? "intake" : "exhaust",
                                                std::sin(0.01 * static_cast<double>(i)))})}});
  return list;
}

bool has(const std::vector<std::size_t>& list, std::size_t value) {
  return std::binary_search(list.begin(), list.end(), value);
}

}  // namespace

TEST_CASE("a few angles are all shown and drawn") {
  const CarriedPoints few = carried_points(points(25, 7));
  CHECK(few.shown.size() == 25);
  CHECK(few.drawn == few.shown);
}

TEST_CASE("of many angles some are drawn, and those beside a change of a role always") {
  const CarriedPoints turn = carried_points(points(361, 113));
  CHECK(turn.shown.size() == 361);
  CHECK(turn.drawn.size() <= 80);
  for (const std::size_t i : {0, 112, 113, 360}) CHECK(has(turn.drawn, i));

  Json many = points(3601, 1234);
  many[2001]["solved"] = false;
  const CarriedPoints fine = carried_points(many);
  CHECK(fine.shown.size() <= 480);
  for (const std::size_t i : {0, 1233, 1234, 2000, 2001, 2002, 3600}) CHECK(has(fine.shown, i));
  CHECK_FALSE(has(fine.drawn, 2001));  // it has no solution
  for (const std::size_t i : fine.drawn) CHECK(has(fine.shown, i));
}

// A chart of 1000 px shows a curve to half a pixel of its 300 px where straight lines between the points
// carried leave the curve by less than 1/600 of its height.
TEST_CASE("curves through the points carried are those through all, to half a pixel") {
  const Json all = points(3601, 1234);
  const CarriedPoints carried = carried_points(all);
  const auto flow = [&](std::size_t i) { return all[i]["vents"][0]["inflow_kg_s"].get<double>(); };
  double worst = 0.0;
  for (std::size_t k = 1; k < carried.shown.size(); ++k) {
    const std::size_t from = carried.shown[k - 1], to = carried.shown[k];
    for (std::size_t i = from; i <= to; ++i) {
      const double share = static_cast<double>(i - from) / static_cast<double>(to - from);
      worst = std::max(worst, std::abs(flow(i) - (1.0 - share) * flow(from) - share * flow(to)));
    }
  }
  CHECK(worst < 2.0 / 600.0);
}

TEST_CASE("a carried vent has the values that a page shows, to eight digits") {
  const Json sweep = {
      {"name", "turn"}, {"condition", "use"}, {"axis", {0.0, 1.0, 0.0}}, {"points", points(3, 1)}};
  const Json carried = carried_sweep(sweep, carried_points(sweep["points"]));
  CHECK(carried["of"] == 3);
  CHECK(carried["points"].size() == 3);
  const Json& fields = carried["fields"];
  const Json& values = carried["points"][2]["vents"][0];
  REQUIRE(values.size() == fields.size());
  for (std::size_t k = 0; k < fields.size(); ++k) {
    if (fields[k] == "role") CHECK(values[k] == "exhaust");
    if (fields[k] == "inflow_kg_s") CHECK(values[k].get<double>() == Approx(std::sin(0.02)).epsilon(5e-8));
    if (fields[k] == "pressure_Pa") CHECK(values[k].is_null());  // results of an older program lack it
  }
}
