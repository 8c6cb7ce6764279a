// A storey of the chassis as a depth-averaged layer.
#pragma once

#include "solver/flow2d/layer_model.hpp"

namespace tuft::plan {

/// Factor of the profile across a layer, that of a parabola between plates (exact): mean of u^2 over (mean
/// u)^2.
constexpr double kProfileFactor = 1.2;

/// The ambient air as the field's fluid.
field::Fluid fluid_of(const network::Ambient& ambient);

/// Storey `storey`: zones with walls between them, fin stacks as porous blocks (F21), heat, wall losses.
Layer inside_layer(const geometry::Device& device, const geometry::Raster& raster,
                   const network::Network& net, const Given& given, int storey);

}  // namespace tuft::plan
