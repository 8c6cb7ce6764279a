#include "tools/figure/marks.hpp"

#include <fmt/format.h>

#include <cmath>
#include <stdexcept>

#include "tools/figure/axes.hpp"

namespace tuft::figure {
namespace {

constexpr double kQuarter = 1.57079632679489661923;

Point around(const Point& centre, double radius, double angle) {
  return {centre.x + radius * std::cos(angle), centre.y + radius * std::sin(angle)};
}

// A wedge on the ray at an angle, its tip at `tip` and its base at `base` from the centre.
std::vector<Point> wedge(const Point& centre, double angle, double tip, double base, double half) {
  const Point foot = around(centre, base, angle);
  const double x = -std::sin(angle) * half, y = std::cos(angle) * half;
  return {around(centre, tip, angle), {foot.x + x, foot.y + y}, {foot.x - x, foot.y - y}};
}

std::vector<Point> cross(const Point& centre, double r) {
  const Box box = box_around(centre, centre, r);
  return {{box.left, box.top}, {box.right, box.bottom}, {box.left, box.bottom}, {box.right, box.top}};
}

void draw_intake(const Point& centre, double r, Paint paint, Svg& svg) {
  svg.circle(centre, r, {paint, Paint::paper, 1.2});
  for (const double angle : {0.0, 2.0 * kQuarter})
    svg.polygon(wedge(centre, angle, 0.10 * r, 0.76 * r, 0.40 * r), {Paint::paper});
}

void draw_exhaust(const Point& centre, double r, Paint paint, Svg& svg) {
  svg.circle(centre, r - 0.8, {Paint::paper, paint, 1.6});
  for (const double angle : {0.0, 2.0 * kQuarter})
    svg.polygon(wedge(centre, angle, 0.78 * r, 0.14 * r, 0.40 * r), {paint});
}

void draw_both(const Point& centre, double r, Paint paint, Svg& svg) {
  svg.circle(centre, r - 0.8, {Paint::paper, paint, 1.6});
  std::vector<Point> half;
  for (int i = 0; i <= 16; ++i) half.push_back(around(centre, r - 0.4, kQuarter + 2.0 * kQuarter * i / 16.0));
  svg.polygon(half, {paint});
  svg.polygon(wedge(centre, 2.0 * kQuarter, 0.12 * r, 0.74 * r, 0.34 * r), {Paint::paper});
  svg.polygon(wedge(centre, 0.0, 0.78 * r, 0.16 * r, 0.34 * r), {paint});
}

void draw_idle(const Point& centre, double r, Paint paint, Svg& svg) {
  svg.circle(centre, r - 0.8, {Paint::paper, paint, 1.6});
  svg.line({centre.x - 0.5 * r, centre.y}, {centre.x + 0.5 * r, centre.y}, {Paint::none, paint, 0.26 * r});
}

void draw_shut(const Point& centre, double r, Paint paint, Svg& svg) {
  svg.rect(box_around(centre, centre, 0.86 * r), {Paint::paper, paint, 1.6});
  svg.segments(cross(centre, 0.5 * r), {Paint::none, paint, 2.0});
}

// What shows each doing, in the order of the roles; at last what is shut.
struct VentStateLook {
  Paint paint;
  const char* words;
  void (*draw)(const Point& centre, double radius, Paint paint, Svg& svg);
};

const VentStateLook& look_of(const VentState& vent_state) {
  static constexpr VentStateLook kLooks[] = {{Paint::intake, "takes air in", draw_intake},
                                             {Paint::exhaust, "lets air out", draw_exhaust},
                                             {Paint::both_ways, "both ways", draw_both},
                                             {Paint::idle, "next to nothing", draw_idle},
                                             {Paint::shut, "shut", draw_shut}};
  return kLooks[vent_state.shut ? 4 : static_cast<std::size_t>(vent_state.role)];
}

// Whether gravity points straight at the reader or away.
bool is_across(const Gravity& gravity) {
  constexpr double kFlat = 0.2;  // less in the plane than this counts as straight
  return std::hypot(gravity.right, gravity.up) < kFlat;
}

std::string significant(double value) {
  if (value == 0.0) return "0";
  const int power = static_cast<int>(std::floor(std::log10(std::abs(value)) + 1e-9));
  return tick_label(value, std::max(0, std::min(2 - power, 5)));
}

}  // namespace

Paint vent_state_paint(const VentState& vent_state) { return look_of(vent_state).paint; }
const char* vent_state_words(const VentState& vent_state) { return look_of(vent_state).words; }
const char* vent_state_word(const VentState& vent_state) {
  return vent_state.shut ? "shut" : geometry::role_word(vent_state.role);
}

void draw_mark(const VentState& vent_state, const Point& centre, double radius, Svg& svg) {
  svg.open({{"data-mark", vent_state_word(vent_state)}});
  look_of(vent_state).draw(centre, radius, vent_state_paint(vent_state), svg);
  svg.close();
}

void draw_arrow(const Arrow& arrow, Svg& svg) {
  const double dx = arrow.to.x - arrow.from.x, dy = arrow.to.y - arrow.from.y;
  const double length = std::hypot(dx, dy);
  if (!(length > 0.0)) return;
  const double ux = dx / length, uy = dy / length;
  const double head = std::min(1.1 * arrow.width, length);
  const double half_head = 0.5 * arrow.width * head / (1.1 * arrow.width);
  const double half_shaft = 0.42 * half_head;
  const auto at = [&](double along, double aside) {
    return Point{arrow.from.x + along * ux - aside * uy, arrow.from.y + along * uy + aside * ux};
  };
  const double neck = length - head;
  std::vector<Point> outline = {at(neck, half_head), at(length, 0.0), at(neck, -half_head)};
  if (neck > 0.0)
    outline = {at(0.0, half_shaft),  at(neck, half_shaft),  at(neck, half_head), at(length, 0.0),
               at(neck, -half_head), at(neck, -half_shaft), at(0.0, -half_shaft)};
  const Paint fill = arrow.hollow ? Paint::paper : arrow.paint;
  svg.polygon(outline, {fill, arrow.paint, arrow.hollow ? 1.5 : 0.8}, arrow.tags);
}

std::string gravity_words(const Gravity& gravity) {
  if (!is_across(gravity)) return "gravity";
  return gravity.towards > 0.0 ? "gravity, towards you" : "gravity, away from you";
}

void draw_gravity(const Gravity& gravity, const Point& centre, double radius, Svg& svg) {
  svg.open({{"data-gravity", fmt::format("{:.3f} {:.3f} {:.3f}", gravity.right + 0.0, gravity.up + 0.0,
                                         gravity.towards + 0.0)}});
  svg.circle(centre, radius, {Paint::none, Paint::muted, 1.1});
  const double plane = std::hypot(gravity.right, gravity.up);
  if (is_across(gravity) && gravity.towards > 0.0) {
    svg.circle(centre, 0.3 * radius, {Paint::muted});
  } else if (is_across(gravity)) {
    svg.segments(cross(centre, 0.707 * radius), {Paint::none, Paint::muted, 1.1});
  } else {
    const double right = radius * gravity.right / plane, up = radius * gravity.up / plane;
    const Point tail{centre.x - right, centre.y + up}, tip{centre.x + right, centre.y - up};
    draw_arrow({tail, tip, 0.95 * radius, Paint::muted, false, {}}, svg);
  }
  svg.close();
}

double round_length(double most) {
  if (!(most > 0.0) || !std::isfinite(most))
    throw std::invalid_argument(fmt::format("length {} for a scale bar: must be > 0", most));
  const double power = std::pow(10.0, std::floor(std::log10(most)));
  for (const double factor : {5.0, 2.0})
    if (factor * power <= most * (1.0 + 1e-9)) return factor * power;
  return power;
}

double round_in(const geometry::ShownUnit& unit, double most) {
  return round_length(unit.of_difference(most)) / unit.per_si;
}

std::string length_text(double metres, geometry::UnitSystem units) {
  const geometry::ShownUnit unit = geometry::length_unit(units);
  return fmt::format("{:.6g} {}", unit.of(metres), unit.name);
}

std::string flow_label(double cubic_metres_per_second, geometry::UnitSystem units) {
  const geometry::ShownUnit unit = geometry::flow_unit(units);
  return significant(unit.of(cubic_metres_per_second)) + " " + unit.name;
}

std::string round_flow_label(double cubic_metres_per_second, geometry::UnitSystem units) {
  const geometry::ShownUnit unit = geometry::flow_unit(units);
  return fmt::format("{:.2g} {}", unit.of(cubic_metres_per_second), unit.name);
}

std::string temperature_label(double kelvin, geometry::UnitSystem units) {
  const geometry::ShownUnit unit = geometry::temperature_unit(units);
  return tick_label(unit.of(kelvin), 0) + " " + unit.name;
}

std::string share_label(double share) {
  const double percent = 100.0 * share;
  return tick_label(percent, percent != 0.0 && percent < 9.95 ? 1 : 0) + " %";
}

}  // namespace tuft::figure
