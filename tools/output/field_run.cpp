#include "tools/output/field_run.hpp"

#include <cmath>
#include <initializer_list>
#include <string>

#include "tools/output/finite.hpp"
#include "tools/output/utf8.hpp"

namespace tuft::output {
namespace {

void require(bool finite, const std::string& name) {
  if (!finite) throw NotFinite("the result field." + printable(name) + " is not a finite number");
}

void require_all(const field::Array2& values, const std::string& name) {
  for (const double value : values.values()) require(std::isfinite(value), name);
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
}

}  // namespace tuft::output
