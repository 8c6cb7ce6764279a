// A device in one condition as plan layers: what is solved where, and what joins the layers, the outside and
// the few spaces that stay well mixed. Plain data, made once for a cell size.
#pragma once

#include <string>
#include <vector>

#include "geometry/device/condition.hpp"
#include "geometry/device/raster.hpp"
#include "solver/flow2d/layer_boundary_data.hpp"
#include "solver/flow2d/problem.hpp"
#include "solver/flow2d/system.hpp"
#include "solver/network/assemble.hpp"
#include "solver/network/graph.hpp"
#include "solver/physics/face_law.hpp"
#include "solver/physics/two_way_flow.hpp"

namespace tuft::flow2d {

/// A part of an opening, such as what lies in one cell. Flow is positive from side a to side b.
struct OpeningLaw {
  physics::FaceLaw law;
  double area = 0.0;            ///< of the part [m2]
  double span_lever = 0.0;      ///< |g| times the part's own height along gravity [m2/s2]
  double exchange_lever = 0.0;  ///< g against the normal from a to b [m/s2], + where b lies above a
  physics::ExchangeLaw whole;   ///< exchange under heavier air of the whole opening
  double conductance = 0.0;     ///< of the part's still air [W/K]
};

/// The law of a part of a network opening: `area` [m2] of it, with sides of `first` and `second` [m] along
/// the opening's own two axes.
OpeningLaw opening_law(const network::Opening& opening, const network::Vec3& gravity, double conductivity,
                       double area, double first, double second);

/// One side: the pressure at the opening [Pa] and the temperature [K] of the air there.
struct SideAir {
  double pressure = 0.0;
  double temperature = 0.0;
};

/// Gross mass flows, both >= 0 [kg/s], and heat conducted from a to b [W].
struct OpeningFlow {
  double forward = 0.0, backward = 0.0;
  double exchange = 0.0;  ///< part of both that is two-way exchange under heavier air
  double conducted = 0.0;
  double net() const { return forward - backward; }
};

/// Flow through a part under the pressures on its two sides: E2 with the head over the part's own height
/// (E3), and exchange under heavier air (E4) at the rate at which the whole opening would have it
/// (docs/theory.md).
OpeningFlow opening_flow(const OpeningLaw& part, const Fluid& fluid, const SideAir& a, const SideAir& b);

/// The head [Pa] that a net flow [kg/s] needs, and the gross flows under it; the inverse of opening_flow.
OpeningFlow opening_flow_at(const OpeningLaw& part, const Fluid& fluid, double net, double temperature_a,
                            double temperature_b, double* head);

enum class LayerKind {
  inside,  ///< a storey of the chassis
  gap      ///< between a face of the chassis and what lies against it
};

/// One depth-averaged layer.
struct Layer {
  LayerKind kind = LayerKind::inside;
  geometry::Face face = geometry::Face::base;  ///< gap: the face it lies at
  Problem problem;
  std::vector<int> stack_of_channels;  ///< fin stack of each of problem.channels
  Array2 height;                       ///< z of the layer's middle, cells [m]
  Array2T<int> part;  ///< zone, n_zones + fin stack, or kNoPart where solid; gap: 0 where open
};

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
