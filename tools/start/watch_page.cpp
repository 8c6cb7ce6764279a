#include "tools/start/watch_page.hpp"

#include "tools/figure/device_drawing.hpp"
#include "tools/output/caution.hpp"
#include "tools/output/claim_table.hpp"
#include "tools/output/table.hpp"
#include "tools/output/words.hpp"
#include "tools/start/page_frame.hpp"

namespace tuft::start {
namespace {

constexpr const char* kStyle =
    "<style>:root{color-scheme:light dark}body{font:16px/1.5 "
    "sans-serif;max-width:1280px;margin:auto;padding:1em}"
    "pre{font:14px/1.4 monospace;overflow-x:auto}svg{width:100%;height:auto}</style>\n";

output::Look plain() {
  output::Look look;
  look.width = 100;
  return look;
}

figure::VentFlow flow_of(const study::VentResult& vent, const study::ConditionResult& result) {
  figure::VentFlow flow;
  flow.role = vent.role;
  flow.shut = vent.shut;
  flow.firm = vent.firm;
  flow.inflow = output::room_volume_flow(vent.inflow, result);
  flow.outflow = output::room_volume_flow(vent.outflow, result);
  flow.share = vent.share;
  if (vent.outflow > 0.0) flow.temperature = vent.temperature_out;
  return flow;
}

std::string section(const output::Run& run, const study::ConditionResult& result) {
  std::string text = "<section>\n<h2>" + html_text(result.name) + "</h2>\n";
  if (result.report.converged) {
    const std::string svg = condition_drawing(run.content, result);
    text += svg.substr(svg.find("<svg"));  // within HTML there is no XML declaration
  }
  return text + "<pre>" + html_text(output::condition_text(run.content, result, plain())) +
         "</pre>\n</section>\n";
}

}  // namespace

std::string condition_drawing(const geometry::Case& content, const study::ConditionResult& result) {
  const auto& condition = content.conditions[static_cast<std::size_t>(result.condition)];
  figure::DeviceDrawing drawing;
  drawing.title = content.device.name + ": " + result.name;
  drawing.subtitle = output::circumstances(content, condition);
  drawing.device = content.device;
  drawing.pose = content.poses[static_cast<std::size_t>(condition.pose)];
  for (const study::VentResult& vent : result.vents) drawing.flows.push_back(flow_of(vent, result));
  return figure::device_drawing(drawing);
}

std::string watch_page(const output::Run& run) {
  std::string text =
      "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>" +
      html_text(run.content.device.name) + "</title>\n" + kStyle + "</head>\n<body>\n<h1>" +
      html_text(run.content.device.name) + "</h1>\n";
  if (!run.claims.empty()) {
    std::string claims;
    for (const auto& claim : run.claims) claims += output::claim_text(run.content, claim, plain());
    text += "<h2>Claims</h2>\n<pre>" + html_text(claims) + "</pre>\n";
  }
  for (const auto& result : run.conditions) text += section(run, result);
  return text + "<p>" + html_text(output::kCaution) + "</p>\n</body>\n</html>\n";
}

}  // namespace tuft::start
