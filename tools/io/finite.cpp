#include "tools/io/finite.hpp"

#include <cmath>
#include <initializer_list>
#include <string>

#include "tools/io/utf8.hpp"

namespace tuft::output {
namespace {

struct Named {
  const char* name;
  double value;
};

void require(const std::string& place, std::initializer_list<Named> numbers) {
  for (const Named& number : numbers) {
    if (!std::isfinite(number.value)) {
      throw NotFinite("the result " + printable(place) + number.name + " is not a finite number");
    }
  }
}

void require_vent(const std::string& place, const study::VentResult& vent) {
  require(place, {{"inflow", vent.inflow},
                  {"outflow", vent.outflow},
                  {"exchange", vent.exchange},
                  {"share", vent.share},
                  {"face_velocity", vent.face_velocity},
                  {"temperature_in", vent.temperature_in},
                  {"temperature_out", vent.temperature_out},
                  {"pressure", vent.pressure},
                  {"fan_head", vent.fan_head},
                  {"buoyancy_head", vent.buoyancy_head},
                  {"span_head", vent.span_head},
                  {"neutral_level", vent.neutral_level}});
}

void require_heat(const Run& run, const std::string& place, const study::ConditionResult& result) {
  require(place, {{"growth", result.states.growth}});
  for (const auto& other : result.states.others)
    for (const auto& vent : other.vents) require_vent(place + "states.", vent);
  require(place, {{"heat_with_air", result.heat.with_air}, {"heat_through_skin", result.heat.through_skin}});
  for (const auto& source : result.sources) {
    require(place + "sources." + source.name + ".",
            {{"asked", source.asked}, {"power", source.power}, {"temperature", source.temperature}});
  }
  for (const auto& part : result.parts) {
    require(place + "parts." + part.name + ".", {{"temperature", part.temperature}});
  }
  for (const auto& skin : result.skins) {
    const auto& name = run.content.device.skins[static_cast<std::size_t>(skin.skin)].name;
    require(place + "skin." + name + ".", {{"temperature", skin.temperature}, {"heat_out", skin.heat_out}});
  }
  for (const auto& edge : result.lid_edges) {
    require(place + "screen.", {{"temperature", edge.temperature}, {"air", edge.air_temperature}});
  }
}

// A condition without a solution has no numbers that leave the program.
void require_condition(const Run& run, const std::string& place, const study::ConditionResult& result) {
  if (!result.report.converged) return;
  require(place, {{"residual", result.report.residual},
                  {"mass_imbalance", result.balance.mass},
                  {"energy_imbalance", result.balance.energy},
                  {"through_flow", result.through_flow},
                  {"power", result.power},
                  {"ambient_density", result.ambient_density},
                  {"ambient_temperature", result.ambient_temperature}});
  for (const auto& vent : result.vents) {
    const auto& name = run.content.device.vents[static_cast<std::size_t>(vent.vent)].name;
    require_vent(place + "vents." + name + ".", vent);
  }
  for (const auto& zone : result.zones) {
    require(place + "zones." + zone.name + ".",
            {{"pressure", zone.pressure}, {"temperature", zone.temperature}});
  }
  for (const auto& fan : result.fans) {
    require(place + "fans." + fan.name + ".", {{"speed", fan.speed},
                                               {"cooling_speed", fan.cooling_speed},
                                               {"volume_flow", fan.volume_flow},
                                               {"pressure_rise", fan.pressure_rise},
                                               {"temperature", fan.temperature}});
  }
  for (const auto& fin : result.fins) {
    require(place + "fins." + fin.name + ".",
            {{"volume_flow", fin.volume_flow}, {"temperature", fin.temperature}});
  }
  require_heat(run, place, result);
}

}  // namespace

void require_finite(const Run& run) {
  for (const auto& condition : run.conditions) {
    require_condition(run, "conditions." + condition.name + ".", condition);
  }
  for (const auto& sweep : run.sweeps) {
    for (std::size_t i = 0; i < sweep.points.size(); ++i) {
      const std::string place = "sweeps." + sweep.name + "." + std::to_string(i) + ".";
      require(place, {{"angle", sweep.points[i].angle}});
      require_condition(run, place, sweep.points[i].result);
    }
  }
}

}  // namespace tuft::output
