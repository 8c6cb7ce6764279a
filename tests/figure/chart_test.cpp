// Line charts and bar charts.
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <set>

#include "tests/figure/xml.hpp"
#include "tools/figure/bar_chart.hpp"
#include "tools/figure/line_chart.hpp"

using namespace tuft::figure;
using tuft::test::all;
using tuft::test::having;
using tuft::test::parsed;
using tuft::test::text_faults;

namespace {

Series warming(const std::string& name, double end, double time, double span = 1800.0) {
  Series series;
  series.name = name;
  for (int i = 0; i <= 1000; ++i) {
    series.x.push_back(span * i / 1000.0);
    series.y.push_back(21.0 + (end - 21.0) * (1.0 - std::exp(-series.x.back() / time)));
  }
  return series;
}

LineChart warm_up() {
  LineChart chart;
  chart.title = "Warm-up of a notebook";
  chart.subtitle = "flat, on table, load stress";
  chart.x_kind = AxisKind::time;
  chart.x_name = "Time since switching on";
  Panel temperature;
  temperature.quantity = "Temperature";
  temperature.unit = "°C";
  temperature.weight = 3.0;
  temperature.series = {warming("processor", 84.0, 120.0), warming("graphics chip", 74.0, 150.0),
                        warming("palm rest", 41.0, 900.0), warming("outlet air", 47.0, 300.0),
                        warming("fan bay", 45.5, 310.0)};
  temperature.thresholds = {{90.0, "throttles at 90 °C"}, {48.0, "skin limit"}};
  Panel fan;
  fan.quantity = "Fan speed";
  fan.unit = "rev/min";
  fan.from_zero = true;
  fan.series = {{"main", {0.0, 60.0, 60.0, 1800.0}, {0.0, 0.0, 4600.0, 4600.0}},
                {"second", {0.0, 60.0, 60.0, 900.0, 900.0, 1800.0}, {0.0, 0.0, 4600.0, 4600.0, 0.0, 0.0}}};
  chart.panels = {temperature, fan};
  chart.events = {{60.0, "fans start"}, {890.0, "fans speed up"}, {900.0, "left fan fails"}};
  return chart;
}

void check_texts(const std::string& document) {
  for (const std::string& fault : text_faults(document)) FAIL_CHECK(fault);
}

}  // namespace

TEST_CASE("a warm-up chart: no text on text, every series, threshold and event is there") {
  const std::string document = line_chart(warm_up());
  check_texts(document);
  const auto root = parsed(document);
  std::set<std::string> words;
  for (const auto& text : all(root, "text")) words.insert(text.text);
  for (const char* word :
       {"processor", "graphics chip", "palm rest", "outlet air", "fan bay", "main", "second",
        "throttles at 90 °C", "skin limit", "fans start", "fans speed up", "left fan fails",
        "Temperature [°C]", "Fan speed [rev/min]", "Time since switching on [min]"}) {
    INFO(word);
    CHECK(words.count(word) == 1);
  }
  CHECK(having(all(root, "line"), "data-threshold").size() == 2);
  CHECK(having(all(root, "path"), "data-event").size() == 3);
  CHECK(line_chart(warm_up()) == document);
}

TEST_CASE("series differ by colour and by dash") {
  const auto root = parsed(line_chart(warm_up()));
  std::set<std::string> colours, dashes, names;
  for (const auto& line : having(all(root, "polyline"), "data-series")) {
    colours.insert(line.at("stroke"));
    dashes.insert(line.at("stroke-dasharray"));
    names.insert(line.at("data-series"));
  }
  CHECK(names.size() == 7);
  CHECK(colours.size() == 7);
  CHECK(dashes.size() == 7);
}

TEST_CASE("values stand at their height") {
  LineChart chart;
  chart.x_name = "x";
  Panel panel;
  panel.quantity = "y";
  panel.series = {{"line", {0.0, 1.0, 2.0}, {0.0, 10.0, 5.0}}};
  chart.panels = {panel};
  const auto root = parsed(line_chart(chart));
  const auto line = having(all(root, "polyline"), "data-series", "line");
  REQUIRE(line.size() == 1);
  const auto points = tuft::test::points_of(line[0]);
  REQUIRE(points.size() == 3);
  CHECK(points[2].y == Approx(0.5 * (points[0].y + points[1].y)).margin(0.02));
  CHECK(points[1].x == Approx(0.5 * (points[0].x + points[2].x)).margin(0.02));
  CHECK(points[0].y > points[1].y);
}

TEST_CASE("lines leave neither their panel nor a trace of what is not there") {
  LineChart chart = warm_up();
  const double nan = std::numeric_limits<double>::quiet_NaN();
  chart.panels[0].series[1].y.assign(1001, nan);
  for (std::size_t i = 400; i < 600; ++i) chart.panels[0].series[2].y[i] = nan;
  const std::string document = line_chart(chart);
  check_texts(document);
  CHECK(document.find("nan") == std::string::npos);
  const auto root = parsed(document);
  CHECK(having(all(root, "polyline"), "data-series", "graphics chip").empty());
  CHECK(having(all(root, "polyline"), "data-series", "palm rest").size() == 2);
  const auto panel = having(all(root, "g"), "data-panel", "Temperature");
  REQUIRE(panel.size() == 1);
  const auto axis = all(panel[0], "path")[0].at("d");  // the grid: its first line runs from top to bottom
  const double top = std::stod(axis.substr(axis.find(',') + 1));
  const double bottom = std::stod(axis.substr(axis.find(',', axis.find('L')) + 1));
  for (const auto& line : having(all(panel[0], "polyline"), "data-series")) {
    for (const Point& point : tuft::test::points_of(line)) {
      CHECK(point.y >= top - 0.01);
      CHECK(point.y <= bottom + 0.01);
    }
  }
}

TEST_CASE("many labels at one height, many events at one time, hostile names") {
  LineChart chart = warm_up();
  chart.panels[0].series.clear();
  for (int i = 0; i < 30; ++i) {
    chart.panels[0].series.push_back(
        warming("series " + std::to_string(i) + std::string(i * 20, 'W'), 50.0 + 0.01 * i, 300.0));
  }
  chart.panels[0].series[3].name = "</svg><script>\u202e\u0007";
  chart.panels[0].series[4].name = "\u05e9\u05dc\u05d5\u05dd (1)";
  chart.title = std::string(10000, 'M');
  chart.subtitle = "a < b & c";
  chart.note = std::string(3000, 'x') + " and words " + std::string(400, 'y');
  for (int i = 0; i < 40; ++i) chart.events.push_back({1000.0 + i, "event number " + std::to_string(i)});
  chart.events.push_back({1800.0, "the very last event, at the right edge of all"});
  const std::string document = line_chart(chart);
  check_texts(document);
  CHECK(all(parsed(document), "script").empty());
}

TEST_CASE("charts of any size keep their texts apart") {
  for (const double width : {240.0, 480.0, 960.0, 1920.0}) {
    for (const double height : {240.0, 540.0, 1080.0}) {
      LineChart chart = warm_up();
      chart.width = width;
      chart.height = height;
      INFO(width << " x " << height);
      check_texts(line_chart(chart));
    }
  }
}

TEST_CASE("a pose sweep is ticked in degrees") {
  LineChart chart;
  chart.title = "Turned about its long axis";
  chart.x_kind = AxisKind::angle;
  chart.x_name = "Tilt";
  Panel panel;
  panel.quantity = "Flow, + into the device";
  panel.unit = "L/s";
  for (const char* name : {"base-slots", "top-slots", "left-slots"}) {
    Series series;
    series.name = name;
    for (int i = 0; i <= 24; ++i) {
      series.x.push_back(15.0 * i);
      series.y.push_back(0.1 * std::cos(0.26 * i + static_cast<double>(panel.series.size())));
    }
    panel.series.push_back(series);
  }
  chart.panels = {panel};
  const std::string document = line_chart(chart);
  check_texts(document);
  const auto root = parsed(document);
  std::set<std::string> words;
  for (const auto& text : all(root, "text")) words.insert(text.text);
  CHECK(words.count("Tilt [°]") == 1);
  CHECK(words.count("90") == 1);
  CHECK(words.count("360") == 1);
}

TEST_CASE("an empty chart is a chart, a senseless one is refused") {
  LineChart empty;
  empty.panels = {Panel{}};
  check_texts(line_chart(empty));
  const auto refused = [](auto change) {
    LineChart chart = warm_up();
    change(chart);
    CHECK_THROWS_AS(line_chart(chart), std::invalid_argument);
  };
  const double nan = std::numeric_limits<double>::quiet_NaN();
  refused([](LineChart& c) { c.panels.clear(); });
  refused([](LineChart& c) { c.panels[0].series[0].x.pop_back(); });
  refused([](LineChart& c) { std::swap(c.panels[0].series[0].x[3], c.panels[0].series[0].x[4]); });
  refused([&](LineChart& c) { c.panels[0].series[0].x[3] = nan; });
  refused([&](LineChart& c) { c.panels[0].thresholds[0].y = nan; });
  refused([&](LineChart& c) { c.events[0].x = nan; });
  refused([](LineChart& c) { c.panels[0].weight = 0.0; });
  refused([](LineChart& c) { c.width = 10.0; });
}

TEST_CASE("bars begin at the base that the chart says, on either side of it") {
  BarChart chart;
  chart.quantity = "temperature";
  chart.unit = "°C";
  chart.base = 21.0;
  chart.base_words = "bars begin at the room's 21.0 °C";
  for (const auto& [name, value] : {std::pair{"chip", 41.0}, std::pair{"cellar", 16.0}}) {
    Bar bar;
    bar.name = name;
    bar.value = value;
    chart.bars.push_back(bar);
  }
  const auto root = tuft::test::parsed(bar_chart(chart));
  const auto base = having(all(root, "line"), "data-base", "21.0");
  REQUIRE(base.size() == 1);
  const auto warm = having(all(root, "rect"), "data-bar", "chip")[0];
  const auto cold = having(all(root, "rect"), "data-bar", "cellar")[0];
  CHECK(warm.number("x") == Approx(base[0].number("x1")).margin(0.02));
  CHECK(cold.number("x") + cold.number("width") == Approx(base[0].number("x1")).margin(0.02));
  CHECK(warm.number("width") == Approx(4.0 * cold.number("width")).epsilon(0.01));  // 20 against 5 degrees
}

TEST_CASE("a limit is a stroke across its bar's row, and the axis reaches it") {
  BarChart chart;
  chart.title = "Limits";
  chart.quantity = "temperature";
  chart.unit = "K";
  chart.paint = Paint::series_7;
  Bar bar;
  bar.name = "chip";
  bar.value = 60.0;
  bar.limit = 90.0;
  chart.bars = {bar};
  const auto root = tuft::test::parsed(bar_chart(chart));
  const auto lines = having(all(root, "line"), "data-limit", "chip");
  REQUIRE(lines.size() == 1);
  const auto box = tuft::test::box_of(having(all(root, "rect"), "data-bar", "chip")[0]);
  // The bar runs from 0 to 60, the stroke stands at 90, half as far again.
  const double x = lines[0].number("x1");
  CHECK((x - box.left) / (box.right - box.left) == Approx(1.5).epsilon(0.01));
}

TEST_CASE("a long subtitle takes more lines, and none of it is cut") {
  BarChart chart;
  chart.title = "Long";
  chart.width = 480.0;
  chart.subtitle =
      "bench: on-right-edge, hung or held free on all sides, load idle, lid 110°, with the room at 21.0 °C "
      "and "
      "the fans at the speeds their tables give";
  chart.quantity = "flow";
  Bar bar;
  bar.name = "vent";
  bar.value = 1.0;
  chart.bars = {bar};
  const std::string document = bar_chart(chart);
  for (const char* word : {"on-right-edge,", "tables", "give"})
    CHECK(document.find(word) != std::string::npos);
}

TEST_CASE("bars run from zero to their value, whiskers over their interval") {
  BarChart chart;
  chart.title = "What the share depends on";
  chart.quantity = "Change of share";
  chart.unit = "% points";
  chart.interval = "95 % interval";
  chart.bars = {{"open ratio", 6.1, 4.8, 7.3, true, "48 % ± 5 %"},
                {"fan curve", -4.0, -5.5, -2.1, true, ""},
                {"gap", 2.2, 0.0, 0.0, false, ""},
                {std::string(500, 'n'), 0.0, 0.0, 0.0, false, std::string(500, 'r')}};
  const std::string document = bar_chart(chart);
  check_texts(document);
  const auto root = parsed(document);
  const auto up = tuft::test::box_of(having(all(root, "rect"), "data-bar", "open ratio")[0]);
  const auto down = tuft::test::box_of(having(all(root, "rect"), "data-bar", "fan curve")[0]);
  CHECK(up.left == Approx(down.right).margin(0.02));
  CHECK(up.width() / down.width() == Approx(6.1 / 4.0).epsilon(1e-3));
  const auto whisker = having(all(root, "path"), "data-whisker", "open ratio");
  REQUIRE(whisker.size() == 1);
  const double pixels = up.width() / 6.1;
  CHECK(std::stod(whisker[0].at("d").substr(1)) == Approx(up.left + 4.8 * pixels).margin(0.05));
  CHECK(bar_chart(chart) == document);
  std::set<std::string> words;
  for (const auto& text : all(root, "text")) words.insert(text.text);
  CHECK(words.count("+6.1") == 1);
  CHECK(words.count("+4.8 to +7.3") == 1);
  CHECK(words.count("−4.0") == 1);
}

TEST_CASE("no value of a bar is cut") {
  BarChart chart;
  chart.quantity = "net flow";
  chart.unit = "L/s";
  chart.digits = 3;
  for (int width = 640; width < 1400; width += 7) {
    chart.width = width;
    for (const double value : {-0.662, -1.18, -0.0735, 0.0474, -12.34}) {
      chart.bars = {{"vent", value, 0.0, 0.0, false, "exhaust"}};
      CHECK(bar_chart(chart).find("…") == std::string::npos);
    }
  }
}

TEST_CASE("bar charts: edges") {
  BarChart chart;
  check_texts(bar_chart(chart));
  chart.bars = {{"tiny", 1e-9, 0.0, 0.0, false, ""}, {"large", 1e9, -1e9, 2e9, true, ""}};
  chart.width = 320.0;
  check_texts(bar_chart(chart));
  chart.bars = {{"odd", 1.0, 3.0, 2.0, true, ""}};
  CHECK_THROWS_AS(bar_chart(chart), std::invalid_argument);
  chart.bars = {{"odd", std::numeric_limits<double>::infinity(), 0.0, 0.0, false, ""}};
  CHECK_THROWS_AS(bar_chart(chart), std::invalid_argument);
}
