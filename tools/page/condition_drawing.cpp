#include "tools/page/condition_drawing.hpp"

#include "tools/figure/device_drawing.hpp"
#include "tools/io/words.hpp"

namespace tuft::start {
namespace {

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

}  // namespace tuft::start
