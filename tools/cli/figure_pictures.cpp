#include "tools/cli/figure_pictures.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "geometry/casefile/nearest.hpp"
#include "solver/numerics/constants.hpp"
#include "tools/cli/console.hpp"
#include "tools/figure/bar_chart.hpp"
#include "tools/figure/device_drawing.hpp"
#include "tools/figure/line_chart.hpp"
#include "tools/figure/svg.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"

namespace tuft::cli {
namespace {

using figure::DeviceDrawing;
using figure::ViewKind;
using io::Run;
using study::ConditionResult;

using numerics::kZeroCelsius;

std::string subtitle(const Run& run, const ConditionResult& result) {
  return result.name + ": " +
         io::circumstances(run.content, run.content.conditions[static_cast<std::size_t>(result.condition)]) +
         "; nominal values";
}

std::string note(const Run& run) {
  return fmt::format("tuft {}, {}, sha256 {}. A prediction, no measurement and no safety assessment.",
                     run.version, run.case_file, run.case_sha256.substr(0, 12));
}

std::vector<figure::VentFlow> flows_of(const ConditionResult& result) {
  std::vector<figure::VentFlow> flows;
  for (const study::VentResult& vent : result.vents)
    flows.push_back({vent.role, vent.shut, vent.firm, io::room_volume_flow(vent.inflow, result),
                     io::room_volume_flow(vent.outflow, result), vent.share, vent.temperature_out});
  return flows;
}

DeviceDrawing drawing_of(const Run& run, const ConditionResult& result, std::vector<ViewKind> views) {
  const auto& condition = run.content.conditions[static_cast<std::size_t>(result.condition)];
  DeviceDrawing drawing;
  drawing.title = run.content.device.name;
  drawing.subtitle = subtitle(run, result);
  drawing.device = run.content.device;
  drawing.pose = run.content.poses[static_cast<std::size_t>(condition.pose)];
  drawing.flows = flows_of(result);
  drawing.views = std::move(views);
  drawing.note = note(run);
  drawing.surroundings = figure::Surroundings::light;
  return drawing;
}

// The width at which a drawing's shape is nearest to the page's, so that it fills it.
std::string drawn_for(DeviceDrawing drawing, const PictureSize& size) {
  const double wanted = std::log(static_cast<double>(size.width) / size.height);
  double best_miss = 1e9;
  std::string best;
  for (double width = 720.0; width <= 1840.0; width += 160.0) {
    drawing.width = width;
    const std::string document = figure::device_drawing(drawing);
    const figure::Point is = figure::document_size(document);
    const double miss = std::abs(std::log(is.x / is.y) - wanted);
    if (miss >= best_miss) continue;
    best_miss = miss;
    best = document;
  }
  return figure::framed(best, size.width, size.height);
}

std::string roles_chart(const Run& run, const ConditionResult& result) {
  figure::BarChart chart;
  chart.title = run.content.device.name;
  chart.subtitle = subtitle(run, result);
  chart.quantity = "net flow, to the right is in";
  chart.unit = "L/s";
  chart.digits = 3;
  chart.note = note(run);
  chart.surroundings = figure::Surroundings::light;
  for (const study::VentResult& vent : result.vents) {
    const geometry::Vent& opening = run.content.device.vents[static_cast<std::size_t>(vent.vent)];
    if (opening.is_leak) continue;
    figure::Bar bar;
    bar.name = opening.name;
    bar.value = 1000.0 * io::room_volume_flow(vent.inflow - vent.outflow, result);
    bar.remark = vent.shut ? "shut" : io::role_text(vent.role) + (vent.firm ? "" : ", close call");
    chart.bars.push_back(bar);
  }
  return figure::bar_chart(chart);
}

figure::Bar temperature_bar(const std::string& name, double kelvin, const std::string& remark) {
  figure::Bar bar;
  bar.name = name;
  bar.value = kelvin - kZeroCelsius;
  bar.remark = remark;
  return bar;
}

std::string temperatures_chart(const Run& run, const ConditionResult& result) {
  figure::BarChart chart;
  chart.title = run.content.device.name;
  chart.subtitle = subtitle(run, result);
  chart.quantity = "temperature";
  chart.unit = "°C";
  chart.digits = 3;
  chart.signs = false;
  chart.note = note(run);
  chart.surroundings = figure::Surroundings::light;
  for (const auto& source : result.sources) {
    if (!source.has_temperature) continue;
    const std::string limit =
        source.throttles_at > 0.0 ? "throttles at " + io::temperature_text(source.throttles_at) : "";
    chart.bars.push_back(temperature_bar(source.name, source.temperature, limit));
  }
  for (const auto& part : result.parts)
    chart.bars.push_back(temperature_bar(part.name, part.temperature, ""));
  for (const auto& skin : result.skins)
    chart.bars.push_back(temperature_bar(
        run.content.device.skins[static_cast<std::size_t>(skin.skin)].name, skin.temperature,
        (skin.lies_on ? "out of reach; " : "") + ("touch limit " + io::temperature_text(skin.limit))));
  for (const auto& zone : result.zones)
    chart.bars.push_back(temperature_bar("air of " + zone.name, zone.temperature, ""));
  return figure::bar_chart(chart);
}

const study::SweepResult& sweep_of(const Run& run, const ConditionResult& result) {
  for (const study::SweepResult& sweep : run.sweeps)
    for (const geometry::Sweep& wanted : run.content.sweeps)
      if (wanted.name == sweep.name && wanted.condition == result.condition) return sweep;
  std::vector<std::string> swept;
  for (const geometry::Sweep& sweep : run.content.sweeps)
    swept.push_back(run.content.conditions[static_cast<std::size_t>(sweep.condition)].name);
  throw Failure(ExitStatus::bad_input,
                io::printable("the case has no sweep of condition '" + result.name + "'" +
                              (swept.empty() ? "" : "; --condition may be: " + casefile::listed(swept))));
}

std::string sweep_chart(const Run& run, const ConditionResult& result) {
  const study::SweepResult& sweep = sweep_of(run, result);
  figure::LineChart chart;
  chart.title = run.content.device.name;
  chart.subtitle = sweep.name + ", from " + subtitle(run, result);
  chart.x_kind = figure::AxisKind::angle;
  chart.x_name = "Angle";
  chart.note = note(run);
  chart.surroundings = figure::Surroundings::light;
  figure::Panel panel;
  panel.quantity = "Net flow, up is in";
  panel.unit = "L/s";
  panel.from_zero = true;
  for (std::size_t v = 0; v < run.content.device.vents.size(); ++v) {
    if (run.content.device.vents[v].is_leak) continue;
    figure::Series series{run.content.device.vents[v].name, {}, {}};
    for (const study::SweepPoint& point : sweep.points) {
      series.x.push_back(io::clean_degrees(point.angle));
      const bool solved = point.result.report.converged;
      const auto net = [&] { return point.result.vents[v].inflow - point.result.vents[v].outflow; };
      series.y.push_back(solved ? 1000.0 * io::room_volume_flow(net(), point.result) : std::nan(""));
    }
    panel.series.push_back(series);
  }
  chart.panels = {panel};
  return figure::line_chart(chart);
}

}  // namespace

void refuse_word(const std::string& option, const std::string& word, const std::vector<std::string>& known) {
  const std::string hint = casefile::did_you_mean(word, known);
  throw Failure(ExitStatus::bad_input,
                io::printable(option + ": there is no '" + word + "'; " +
                              (hint.empty() ? "there are: " + casefile::listed(known) : hint)));
}

std::vector<std::string> sweep_frames(const Run& run, const ConditionResult& result,
                                      const PictureSize& size) {
  const study::SweepResult& sweep = sweep_of(run, result);
  std::vector<std::string> documents;
  for (const geometry::Sweep& wanted : run.content.sweeps) {
    if (wanted.name != sweep.name) continue;
    for (const study::SweepPoint& point : sweep.points) {
      if (!point.result.report.converged) continue;
      DeviceDrawing drawing = drawing_of(run, result, {});
      drawing.flows = flows_of(point.result);
      drawing.pose = geometry::tilted(io::degrees_text(point.angle), wanted.axis, point.angle);
      drawing.subtitle = sweep.name + ": turned " + io::degrees_text(point.angle) + "; nominal values";
      documents.push_back(drawn_for(drawing, size));
    }
  }
  return documents;
}

std::string picture(const Run& run, const ConditionResult& result, const std::string& what,
                    const PictureSize& size) {
  if (what == "views") return drawn_for(drawing_of(run, result, {}), size);
  if (what == "plan") return drawn_for(drawing_of(run, result, {ViewKind::top}), size);
  if (what == "base") return drawn_for(drawing_of(run, result, {ViewKind::base}), size);
  if (what == "sides")
    return drawn_for(
        drawing_of(run, result, {ViewKind::front, ViewKind::rear, ViewKind::left, ViewKind::right}), size);
  if (what == "roles") return figure::framed(roles_chart(run, result), size.width, size.height);
  if (what == "temperatures") return figure::framed(temperatures_chart(run, result), size.width, size.height);
  if (what == "sweep") return figure::framed(sweep_chart(run, result), size.width, size.height);
  refuse_word("--what", what, {"views", "plan", "base", "sides", "roles", "temperatures", "sweep"});
}

}  // namespace tuft::cli
