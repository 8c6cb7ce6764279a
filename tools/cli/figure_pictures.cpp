#include "tools/cli/figure_pictures.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "geometry/casefile/nearest.hpp"
#include "solver/numerics/constants.hpp"
#include "tools/cli/console.hpp"
#include "tools/figure/bar_chart.hpp"
#include "tools/figure/device_drawing.hpp"
#include "tools/figure/line_chart.hpp"
#include "tools/figure/svg.hpp"
#include "tools/io/field_figures.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"

namespace tuft::cli {

using io::Run;
using study::ConditionResult;

std::string figure_subtitle(const Run& run, const ConditionResult& result) {
  return result.name + ": " +
         io::circumstances(run.content, io::at(run.content.conditions, result.condition)) +
         "; nominal values";
}

std::string figure_note(const Run& run) {
  return fmt::format("tuft {}, {}, sha256 {}. A prediction, no measurement and no safety assessment.",
                     run.version, run.case_file, run.case_sha256.substr(0, 12));
}

namespace {

using figure::DeviceDrawing;
using figure::StandingDrawing;
using figure::ViewKind;

constexpr double kFrameHeight = 560.0;  // of a film's picture before it is enlarged [px]

// A figure with what stands around it.
template <typename Figure>
Figure figure_of(const Run& run, const ConditionResult& result) {
  Figure figure;
  figure.title = run.content.device.name;
  figure.subtitle = figure_subtitle(run, result);
  figure.note = figure_note(run);
  figure.surroundings = figure::Surroundings::light;
  return figure;
}

DeviceDrawing drawing_of(const Run& run, const ConditionResult& result, std::vector<ViewKind> views) {
  const auto& condition = io::at(run.content.conditions, result.condition);
  DeviceDrawing drawing = figure_of<DeviceDrawing>(run, result);
  drawing.device = run.content.device;
  drawing.units = run.content.units;
  drawing.pose = io::at(run.content.poses, condition.pose);
  const geometry::Support& support = io::at(run.content.supports, condition.support);
  drawing.rest = {support.kind, support.name};
  drawing.flows = io::vent_flows(result);
  drawing.views = std::move(views);
  return drawing;
}

// A picture for video: its smallest words are to be 18 pixels high at 1080 lines, common practice, no source.
constexpr double kSmallestWords = 12.0, kLegible = 18.0 / 1080.0;

// The width at which a drawing's shape is nearest to the page's, so that it fills it, of those at which its
// words are legible; where none is, that with the largest words.
std::string drawn_for(DeviceDrawing drawing, const PictureSize& size) {
  const double wanted = std::log(static_cast<double>(size.width) / size.height);
  double best_miss = 1e9, best_words = 0.0;
  std::string best;
  // Of many views each needs room for its heading.
  const bool many = drawing.views.empty() || drawing.views.size() > 2;
  const double narrowest = many ? 1120.0 : 720.0;
  constexpr int kWidths = 10;
  // Six views: also in three columns, the smaller the larger their words.
  const std::vector<double> heights =
      drawing.views.empty() ? std::vector<double>{0.0, 210.0, 150.0, 95.0} : std::vector<double>{0.0};
  for (int k = 0; k < static_cast<int>(heights.size()) * kWidths; ++k) {
    drawing.width = narrowest + 80.0 * (k % kWidths);
    drawing.two_rows = heights[static_cast<std::size_t>(k / kWidths)];
    drawing.columns = drawing.two_rows > 0.0 ? 3 : 2;
    const std::string document = figure::device_drawing(drawing);
    const figure::Point is = figure::document_size(document);
    const double words =
        std::min(kSmallestWords * figure::framed_scale(is, size.width, size.height), kLegible * size.height);
    const double miss = std::abs(std::log(is.x / is.y) - wanted);
    const bool larger = words > 1.001 * best_words, as_large = words > 0.999 * best_words;
    if (!larger && !(as_large && miss < best_miss)) continue;
    best_miss = miss;
    best_words = std::max(words, best_words);
    best = document;
  }
  return figure::framed(best, size.width, size.height);
}

figure::BarChart bar_chart_of(const Run& run, const ConditionResult& result, const std::string& quantity,
                              const std::string& unit) {
  figure::BarChart chart = figure_of<figure::BarChart>(run, result);
  chart.quantity = quantity;
  chart.unit = unit;
  chart.digits = 3;
  return chart;
}

std::string roles_chart(const Run& run, const ConditionResult& result) {
  const geometry::ShownUnit unit = geometry::flow_unit(run.content.units);
  figure::BarChart chart = bar_chart_of(run, result, "net flow, to the right is in", unit.name);
  for (const study::VentResult& vent : result.vents) {
    const geometry::Vent& opening = io::at(run.content.device.vents, vent.vent);
    if (opening.is_leak) continue;
    const std::string role = io::role_text(vent.role) + (vent.firm ? "" : ", close call");
    chart.bars.push_back({opening.name, unit.of(io::room_volume_flow(vent.inflow - vent.outflow, result)),
                          0.0, 0.0, false, vent.shut ? "shut" : role});
  }
  return figure::bar_chart(chart);
}

std::string temperatures_chart(const Run& run, const ConditionResult& result) {
  const geometry::ShownUnit unit = geometry::temperature_unit(run.content.units);
  figure::BarChart chart = bar_chart_of(run, result, "temperature", unit.name);
  chart.signs = false;
  chart.base = unit.of(result.ambient_temperature);
  chart.base_words =
      "bars begin at the room's " + io::temperature_text(result.ambient_temperature, run.content.units);
  chart.paint = figure::Paint::series_7;  // the first blue is that of air drawn in
  const auto add = [&](const std::string& name, double kelvin, const std::string& remark,
                       double limit = 0.0) {
    figure::Bar bar;
    bar.name = name;
    bar.value = unit.of(kelvin);
    bar.remark = remark;
    if (limit > 0.0) bar.limit = unit.of(limit);
    chart.bars.push_back(std::move(bar));
  };
  for (const auto& source : result.sources) {
    if (!source.has_temperature) continue;
    const std::string limit =
        source.throttles_at > 0.0
            ? "throttles at " + io::temperature_text(source.throttles_at, run.content.units)
            : "";
    add(source.name, source.temperature, limit, source.throttles_at);
  }
  for (const auto& part : result.parts) add(part.name, part.temperature, "");
  for (const auto& skin : result.skins)
    add(io::at(run.content.device.skins, skin.skin).name, skin.temperature,
        (skin.lies_on ? "out of reach; " : "") +
            ("touch limit " + io::temperature_text(skin.limit, run.content.units)),
        skin.lies_on ? 0.0 : skin.limit);
  for (const auto& zone : result.zones) add("air of " + zone.name, zone.temperature, "");
  return figure::bar_chart(chart);
}

const study::SweepResult& sweep_of(const Run& run, const ConditionResult& result) {
  for (const study::SweepResult& sweep : run.sweeps)
    for (const geometry::Sweep& wanted : run.content.sweeps)
      if (wanted.name == sweep.name && wanted.condition == result.condition) return sweep;
  std::vector<std::string> swept;
  for (const geometry::Sweep& sweep : run.content.sweeps)
    swept.push_back(io::at(run.content.conditions, sweep.condition).name);
  refuse("the case has no sweep of condition '" + result.name + "'" +
         (swept.empty() ? "" : "; --condition may be: " + casefile::listed(swept)));
}

// A sweep has poses of its own: of its condition's circumstances all but the pose hold.
std::string sweep_subtitle(const Run& run, const ConditionResult& result, const study::SweepResult& sweep) {
  const std::string all = io::circumstances(run.content, io::at(run.content.conditions, result.condition));
  return sweep.name + ", at each angle " + all.substr(all.find(", ") + 2) + "; nominal values";
}

// The device of a sweep, at one scale for all its angles.
StandingDrawing turning_device(const Run& run, const ConditionResult& result, const study::SweepResult& sweep,
                               const geometry::Sweep& wanted) {
  const DeviceDrawing lying = drawing_of(run, result, {});
  StandingDrawing drawing;
  drawing.title = lying.title;
  drawing.device = lying.device;
  drawing.units = lying.units;
  drawing.rest = lying.rest;
  drawing.surroundings = lying.surroundings;
  const geometry::Condition& condition = io::at(run.content.conditions, result.condition);
  if (lying.device.lid.present)
    drawing.lid_angle = condition.lid_given ? *condition.lid_angle : *lying.device.lid.angle;
  for (const study::SweepPoint& point : sweep.points) {
    drawing.fits.push_back(geometry::tilted("", wanted.axis, point.angle));
    if (point.result.report.converged)
      drawing.largest_flow =
          std::max(drawing.largest_flow, figure::largest_flow(drawing.device, io::vent_flows(point.result)));
  }
  return drawing;
}

std::string sweep_chart(const Run& run, const ConditionResult& result) {
  const study::SweepResult& sweep = sweep_of(run, result);
  figure::LineChart chart = figure_of<figure::LineChart>(run, result);
  chart.subtitle = sweep_subtitle(run, result, sweep);
  chart.x_kind = figure::AxisKind::angle;
  chart.x_name = "Angle";
  figure::Panel panel;
  panel.quantity = "Net flow, up is in";
  const geometry::ShownUnit unit = geometry::flow_unit(run.content.units);
  panel.unit = unit.name;
  panel.from_zero = true;
  for (std::size_t v = 0; v < run.content.device.vents.size(); ++v) {
    if (run.content.device.vents[v].is_leak) continue;
    figure::Series series{run.content.device.vents[v].name, {}, {}};
    for (const study::SweepPoint& point : sweep.points) {
      series.x.push_back(io::clean_degrees(point.angle));
      const bool solved = point.result.report.converged;
      const auto net = [&] { return point.result.vents[v].inflow - point.result.vents[v].outflow; };
      series.y.push_back(solved ? unit.of(io::room_volume_flow(net(), point.result)) : std::nan(""));
    }
    panel.series.push_back(series);
  }
  chart.panels = {panel};
  return figure::line_chart(chart);
}

}  // namespace

void refuse_word(const std::string& option, const std::string& word, const std::vector<std::string>& known) {
  refuse_unknown(option + ": there is no '" + word + "'", casefile::did_you_mean(word, known), known);
}

std::vector<std::string> sweep_frames(const Run& run, const ConditionResult& result,
                                      const PictureSize& size) {
  const study::SweepResult& sweep = sweep_of(run, result);
  const figure::Heading heading{run.content.device.name, sweep_subtitle(run, result, sweep),
                                figure_note(run)};
  std::vector<std::string> documents;
  for (const geometry::Sweep& wanted : run.content.sweeps) {
    if (wanted.name != sweep.name) continue;
    StandingDrawing turned = turning_device(run, result, sweep, wanted);
    turned.width = kFrameHeight * size.width / size.height;
    for (const study::SweepPoint& point : sweep.points) {
      if (!point.result.report.converged) continue;
      turned.flows = io::vent_flows(point.result);
      turned.pose = geometry::tilted(io::degrees_text(point.angle), wanted.axis, point.angle);
      const std::string document =
          figure::turned_drawing(turned, heading, io::degrees_text(point.angle), kFrameHeight);
      documents.push_back(figure::framed(document, size.width, size.height));
    }
  }
  return documents;
}

std::string picture(const Run& run, const ConditionResult& result, const std::string& what,
                    const PictureSize& size) {
  static const std::map<std::string, std::vector<ViewKind>> kViewsOf = {
      {"views", {}},
      {"plan", {ViewKind::top}},
      {"base", {ViewKind::base}},
      {"sides", {ViewKind::front, ViewKind::rear, ViewKind::left, ViewKind::right}}};
  static const std::map<std::string, std::string (*)(const Run&, const ConditionResult&)> kCharts = {
      {"roles", roles_chart}, {"temperatures", temperatures_chart}, {"sweep", sweep_chart}};
  if (const auto found = kViewsOf.find(what); found != kViewsOf.end())
    return drawn_for(drawing_of(run, result, found->second), size);
  if (const auto found = kCharts.find(what); found != kCharts.end())
    return figure::framed(found->second(run, result), size.width, size.height);
  refuse_word("--what", what, {"views", "plan", "base", "sides", "photo", "roles", "temperatures", "sweep"});
}

}  // namespace tuft::cli
