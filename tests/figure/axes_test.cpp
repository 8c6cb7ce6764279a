// Ticks, label rows and spreading.
#include "tools/figure/axes.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <random>

#include "tools/figure/curve.hpp"
#include "tools/figure/placer.hpp"

using namespace tuft::figure;

namespace {

std::string joined(const Ticks& ticks) {
  std::string text;
  for (const std::string& label : ticks.labels) text += (text.empty() ? "" : " ") + label;
  return text + (ticks.unit.empty() ? "" : " | " + ticks.unit);
}

}  // namespace

TEST_CASE("ticks are round numbers") {
  const auto plain = [](double low, double high, int most) {
    return joined(nice_ticks(AxisKind::plain, low, high, most, Ends::widened));
  };
  CHECK(plain(0.0, 1.0, 6) == "0.0 0.5 1.0");
  CHECK(plain(0.0, 100.0, 7) == "0 20 40 60 80 100");
  CHECK(plain(21.3, 84.0, 7) == "20 40 60 80 100");
  CHECK(plain(-0.3, 0.25, 8) == "−0.3 −0.2 −0.1 0.0 0.1 0.2 0.3");
  CHECK(plain(0.0011, 0.0049, 6) == "0.001 0.002 0.003 0.004 0.005");
  CHECK(plain(0.0, 3e8, 5) == "0 1e+08 2e+08 3e+08");
}

TEST_CASE("time is ticked in the units people count it in") {
  const auto time = [](double high, int most) {
    return joined(nice_ticks(AxisKind::time, 0.0, high, most, Ends::kept));
  };
  CHECK(time(1.0, 6) == "0.0 0.2 0.4 0.6 0.8 1.0 | s");
  CHECK(time(60.0, 7) == "0 10 20 30 40 50 60 | s");
  CHECK(time(90.0, 8) == "0 15 30 45 60 75 90 | s");
  CHECK(time(1000.0, 10) == "0 2 4 6 8 10 12 14 16 | min");
  CHECK(time(3600.0, 7) == "0 10 20 30 40 50 60 | min");
  CHECK(time(8.0 * 3600.0, 9) == "0 1 2 3 4 5 6 7 8 | h");
  CHECK(time(100.0 * 3600.0, 6) == "0 24 48 72 96 | h");
}

TEST_CASE("angles are ticked at parts of a turn") {
  CHECK(joined(nice_ticks(AxisKind::angle, 0.0, 360.0, 9, Ends::kept)) ==
        "0 45 90 135 180 225 270 315 360 | °");
  CHECK(joined(nice_ticks(AxisKind::angle, 0.0, 90.0, 8, Ends::kept)) == "0 15 30 45 60 75 90 | °");
}

TEST_CASE("ticks of any range are few, rise, and lie within the axis") {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> exponent(-9.0, 9.0), sign(-1.0, 1.0);
  for (int i = 0; i < 3000; ++i) {
    const double a = sign(random) * std::pow(10.0, exponent(random)),
                 b = sign(random) * std::pow(10.0, exponent(random));
    const AxisKind kind = i % 3 == 0 ? AxisKind::plain : i % 3 == 1 ? AxisKind::time : AxisKind::angle;
    const Ends ends = i % 2 == 0 ? Ends::kept : Ends::widened;
    const int most = 2 + i % 9;
    const Ticks ticks = nice_ticks(kind, std::min(a, b), std::max(a, b), most, ends);
    INFO(std::min(a, b) << " .. " << std::max(a, b) << " at most " << most << " kind " << i % 3);
    REQUIRE(ticks.low < ticks.high);
    REQUIRE(ticks.at.size() == ticks.labels.size());
    CHECK(static_cast<int>(ticks.at.size()) <= most + 1);
    if (ends == Ends::widened)
      CHECK((ticks.low <= std::min(a, b) + 1e-5 * (ticks.high - ticks.low) &&
             ticks.high >= std::max(a, b) - 1e-5 * (ticks.high - ticks.low)));
    const double slack = 1e-5 * (ticks.high - ticks.low);
    for (std::size_t k = 0; k < ticks.at.size(); ++k) {
      CHECK(ticks.at[k] >= ticks.low - slack);
      CHECK(ticks.at[k] <= ticks.high + slack);
      if (k > 0) {
        CHECK(ticks.at[k] > ticks.at[k - 1]);
        CHECK(ticks.labels[k] != ticks.labels[k - 1]);
      }
    }
  }
}

TEST_CASE("an axis without extent gets some, and a senseless one is refused") {
  const Ticks flat = nice_ticks(AxisKind::plain, 5.0, 5.0, 6, Ends::widened);
  CHECK(flat.low < 5.0);
  CHECK(flat.high > 5.0);
  CHECK(nice_ticks(AxisKind::plain, 0.0, 0.0, 6, Ends::kept).high > 0.0);
  const double nan = std::numeric_limits<double>::quiet_NaN();
  CHECK_THROWS_AS(nice_ticks(AxisKind::plain, nan, 1.0, 6, Ends::kept), std::invalid_argument);
  CHECK_THROWS_AS(nice_ticks(AxisKind::plain, 2.0, 1.0, 6, Ends::kept), std::invalid_argument);
  CHECK_THROWS_AS(nice_ticks(AxisKind::plain, 0.0, 1.0, 1, Ends::kept), std::invalid_argument);
}

TEST_CASE("labels are pushed apart, no further than needed") {
  CHECK(spread_out({{10.0, 4.0}, {50.0, 4.0}}, 0.0, 100.0) == std::vector<double>{10.0, 50.0});
  CHECK(spread_out({{10.0, 4.0}, {10.0, 4.0}}, 0.0, 100.0) == std::vector<double>{8.0, 12.0});
  CHECK(spread_out({{0.0, 4.0}, {1.0, 4.0}}, 0.0, 100.0) == std::vector<double>{2.0, 6.0});
  CHECK(spread_out({{100.0, 4.0}, {99.0, 4.0}}, 0.0, 100.0) == std::vector<double>{98.0, 94.0});
  CHECK(spread_out({}, 0.0, 1.0).empty());
  std::mt19937 random(3);
  std::uniform_real_distribution<double> place(-20.0, 320.0), height(4.0, 20.0);
  for (int round = 0; round < 300; ++round) {
    std::vector<Wish> wishes;
    for (int i = 0; i < 1 + round % 14; ++i) wishes.push_back({place(random), height(random)});
    const std::vector<double> middles = spread_out(wishes, 0.0, 300.0);
    for (std::size_t i = 0; i < wishes.size(); ++i) {
      CHECK(middles[i] - 0.5 * wishes[i].height >= -1e-9);
      CHECK(middles[i] + 0.5 * wishes[i].height <= 300.0 + 1e-9);
      for (std::size_t k = 0; k < i; ++k) {
        CHECK(std::abs(middles[i] - middles[k]) >= 0.5 * (wishes[i].height + wishes[k].height) - 1e-9);
        if (wishes[i].at < wishes[k].at) CHECK(middles[i] < middles[k]);
      }
    }
  }
}

TEST_CASE("rows keep spans apart, and the way down from each start free") {
  CHECK(rows_for({{0.0, 10.0}, {20.0, 30.0}}, 5.0) == std::vector<int>{0, 0});
  CHECK(rows_for({{0.0, 18.0}, {20.0, 30.0}}, 5.0) == std::vector<int>{1, 0});
  std::mt19937 random(5);
  std::uniform_real_distribution<double> place(0.0, 500.0), width(10.0, 120.0);
  for (int round = 0; round < 200; ++round) {
    std::vector<Span> spans;
    for (int i = 0; i < 8; ++i) {
      const double start = place(random);
      spans.push_back({start, start + width(random)});
    }
    const std::vector<int> rows = rows_for(spans, 6.0);
    for (std::size_t i = 0; i < spans.size(); ++i) {
      for (std::size_t k = 0; k < spans.size(); ++k) {
        if (i == k) continue;
        if (rows[i] == rows[k])
          CHECK((spans[i].end + 6.0 <= spans[k].start || spans[k].end + 6.0 <= spans[i].start));
        if (rows[i] > rows[k])
          CHECK_FALSE((spans[k].start < spans[i].start && spans[k].end > spans[i].start));
      }
    }
  }
}

TEST_CASE("a line is cut at a box, and thinned without a change to the eye") {
  const Box box{0.0, 0.0, 10.0, 10.0};
  const auto pieces = clipped_line({{-5.0, 5.0}, {5.0, 5.0}, {5.0, 15.0}, {8.0, 15.0}, {8.0, 5.0}}, box);
  REQUIRE(pieces.size() == 2);
  CHECK(pieces[0].front().x == Approx(0.0));
  CHECK(pieces[0].back().y == Approx(10.0));
  CHECK(pieces[1].front().y == Approx(10.0));
  CHECK(clipped_line({{-5.0, 20.0}, {20.0, 20.0}}, box).empty());

  std::vector<Point> wave;
  for (int i = 0; i < 100000; ++i) wave.push_back({i * 0.01, 50.0 * std::sin(i * 0.37)});
  const std::vector<Point> thin = thinned(wave);
  CHECK(thin.size() <= 4 * 2001);
  CHECK(thin.front().x == wave.front().x);
  CHECK(thin.back().x == wave.back().x);
  double most = 0.0;
  for (const Point& point : thin) most = std::max(most, point.y);
  CHECK(most > 49.9);
}
