// The depth-averaged layers of a device: storeys of the chassis, and the gaps between its faces and what lies
// against them.
#pragma once

#include <optional>
#include <vector>

#include "solver/flow2d/layer_model.hpp"
#include "solver/network/outside_pressure.hpp"
#include "solver/network/surface.hpp"

namespace tuft::flow2d {

/// Factor of the profile across a layer, that of a parabola between plates (exact): mean of u^2 over (mean
/// u)^2.
constexpr double kProfileFactor = 1.2;

/// The ambient air as the field's fluid.
Fluid fluid_of(const network::Ambient& ambient);

/// Storey `storey`: zones with walls between them, fin stacks as porous blocks (F21), heat, wall losses.
Layer inside_layer(const geometry::Device& device, const geometry::Raster& raster,
                   const network::Network& net, const LayerBoundaryData& given, int storey);

/// A surface that lies against the base or the top.
struct GapPlace {
  network::Surface surface;
};

/// The surfaces of a condition that make a plan layer: the one the device rests on, and a closed lid. Those
/// at the sides stay spaces of the network.
std::vector<GapPlace> gap_places(const geometry::Case& content, const geometry::Condition& condition);

/// The layer, open to the outside along the rim of the chassis, where the room's air has the pressure that
/// the network's gaps have at their mouths; nothing when the gap is shut everywhere.
std::optional<Layer> gap_layer(const geometry::Device& device, const geometry::Raster& raster,
                               const network::Network& net, const network::OutsidePressure& room_air,
                               const GapPlace& place);

/// Area of every gap cell that breathes through the fabric under it [m2]: as the network has it, under the
/// part of each vent that is not pressed shut, and as far around it as the fabric is thick.
Array2 fabric_area(const geometry::Device& device, const geometry::Raster& raster,
                   const network::Network& net, const network::Surface& surface);

}  // namespace tuft::flow2d
