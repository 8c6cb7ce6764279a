// A device in one condition as plan layers: what is solved where, and what joins the layers, the outside and
// the few spaces that stay well mixed. Plain data, made once for a cell size.
#pragma once

#include <string>
#include <vector>

#include "geometry/device/condition.hpp"
#include "geometry/device/raster.hpp"
#include "solver/flow2d/layer_boundary_data.hpp"
#include "solver/flow2d/layer_opening.hpp"
#include "solver/flow2d/system.hpp"
#include "solver/network/assemble.hpp"

namespace tuft::flow2d {

enum class LayerKind {
  inside,  ///< a storey of the chassis
  gap      ///< between a face of the chassis and what lies against it
};

/// One depth-averaged layer.
struct Layer {
  LayerKind kind = LayerKind::inside;
  geometry::Face face = geometry::Face::base;  ///< gap: the face it lies at
  flow2d::Problem problem;
  std::vector<int> stack_of_channels;  ///< fin stack of each of problem.channels
  flow2d::Array2 height;               ///< z of the layer's middle, cells [m]
  flow2d::Array2T<int> part;  ///< zone, n_zones + fin stack, or kNoPart where solid; gap: 0 where open
};

using flow2d::CellRef;

enum class EndKind { outside, cell, group, node };

/// One end of a connection. `lever` is g.(x - x_end) [m2/s2]: what the end's buoyancy density is multiplied
/// by to carry its pressure to the connection's place x.
struct End {
  EndKind kind = EndKind::outside;
  CellRef cell;
  int index = 0;  ///< of the group or node
  double lever = 0.0;
  double pressure = 0.0;  ///< outside: of the room's air (G8) [Pa]
};

/// A part of a vent in one cell (F22). Side a is always a cell.
struct CellOpening {
  int vent = -1;          ///< index into Device::vents, -1: the fabric under a gap
  bool reversed = false;  ///< side a lies outside the vent (a fan sits right behind it)
  End a, b;
  OpeningLaw law;
  double outside = 0.0;  ///< temperature of the air outside [K]
};

/// Cells that a fan, a passage or a stack's exit joins as one, with their shares (F23).
struct Group {
  struct Member {
    CellRef cell;
    double share = 0.0;
    double lever = 0.0;  ///< to the connection's place [m2/s2]
  };
  std::vector<Member> members;
};

enum class LinkKind {
  fan,
  passage,  ///< between two zones
  opening,  ///< between spaces that stay well mixed, or from one to the outside
  free      ///< from a fin stack's end into its zone: no loss of its own
};

/// A connection with a flow of its own as an unknown, positive from a to b.
struct Link {
  LinkKind kind = LinkKind::free;
  std::string name;
  int index = 0;  ///< fan: into Device::fans; passage: into Device::passages; free: into fin_stacks
  End a, b;
  OpeningLaw law;          ///< passage, opening
  int vent = -1;           ///< opening: the vent it is, where it is one
  double outside = 0.0;    ///< temperature of the air outside [K]
  int graph_fan = -1;      ///< fan: into Graph::fans
  int graph_opening = -1;  ///< all others: into Graph::openings
};

/// Everything there is to solve. Unknowns beside the layers' fields: flow of every link, mean temperature of
/// the air at its two ends, then pressure and temperature of every node.
struct LayerModel {
  geometry::Raster raster;
  network::Network network;  ///< zones well mixed, with the heat given as powers of its nodes
  network::Network layered;  ///< the same with layered zones, as a prediction takes them
  std::vector<Layer> layers;
  std::vector<CellOpening> openings;
  std::vector<Group> groups;
  std::vector<Link> links;
  std::vector<int> nodes;           ///< graph nodes that stay well mixed
  std::vector<int> fin_entry_node;  ///< graph node before every fin stack
  double power = 0.0;               ///< all heat given [W]

  int n_links() const { return static_cast<int>(links.size()); }
  int n_nodes() const { return static_cast<int>(nodes.size()); }
  int n_own() const { return 3 * n_links() + 2 * n_nodes(); }
  /// Numbers of the unknowns beside the fields.
  int flow_of(int link) const { return link; }
  int end_temperature_of(int link, int end) const {
    return (1 + end) * n_links() + link;
  }  ///< end 0: a, 1: b
  int pressure_of(int node) const { return 3 * n_links() + node; }
  int temperature_of(int node) const { return 3 * n_links() + n_nodes() + node; }
};

/// Lays the layers out (docs/field.md). Openings, gaps, fans and ambient air are those network::assemble
/// makes of the same case, so that there is no second description.
/// Throws std::invalid_argument for a cell size, heat lists or a condition index that do not fit.
LayerModel make_model(const geometry::Case& content, const geometry::Condition& condition,
                      const LayerBoundaryData& given, double cell);

}  // namespace tuft::flow2d
