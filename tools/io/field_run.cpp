#include "tools/io/field_run.hpp"

#include <cmath>
#include <initializer_list>
#include <string>

#include "tools/io/finite.hpp"
#include "tools/io/utf8.hpp"

namespace tuft::output {
namespace {

void require(bool finite, const std::string& name) {
  if (!finite) throw NotFinite("the result field." + printable(name) + " is not a finite number");
}

void require_all(const field::Array2& values, const std::string& name) {
  for (const double value : values.values()) require(std::isfinite(value), name);
}

void require_section(const SectionRun& section) {
  const section::SectionResult& result = section.result;
  require_all(result.u, "section.velocity");
  require_all(result.v, "section.velocity");
  require_all(result.pressure, "section.pressure");
  require_all(result.temperature, "section.temperature");
  require_all(result.density, "section.density");
  for (const section::Tracer& tracer : result.tracers) require_all(tracer.share, "section.tracer");
  for (const section::Reentry& pair : result.reentry)
    require(std::isfinite(pair.fraction()), "section.reentry");
  for (const section::SectionVent& vent : result.vents)
    for (const double value : {vent.length, vent.inflow, vent.outflow, vent.speed, vent.drawn, vent.pressure})
      require(std::isfinite(value), "section.vents");
  for (const double value : {result.span, result.fluctuation, result.residual, result.mass, result.energy,
                             result.tracer, result.gravity_across})
    require(std::isfinite(value), "section.summary");
}

}  // namespace

void require_finite(const FieldRun& field) {
  require_finite(field.run);
  for (const plan::LayerFields& layer : field.plan.layers) {
    require_all(layer.u, layer.name + ".velocity");
    require_all(layer.v, layer.name + ".velocity");
    require_all(layer.pressure, layer.name + ".pressure");
    require_all(layer.temperature, layer.name + ".temperature");
    require_all(layer.density, layer.name + ".density");
    require_all(layer.heat, layer.name + ".heat");
  }
  for (const agreement::VentAgreement& row : field.agreement.vents) {
    for (const agreement::Side* side : {&row.network, &row.field})
      for (const double value : {side->inflow, side->outflow, side->share, side->face_velocity,
                                 side->temperature_in, side->temperature_out})
        require(std::isfinite(value), "agreement");
  }
  for (const double value : {field.plan.residual, field.plan.mass, field.plan.energy, field.plan.energy_cells,
                             field.plan.power, field.agreement.start_apart})
    require(std::isfinite(value), "summary");
  if (field.section) require_section(*field.section);
}

}  // namespace tuft::output
