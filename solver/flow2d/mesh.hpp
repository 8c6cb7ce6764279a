// Areas, volumes and conductances of the staggered grid, worked out once per problem.
#pragma once

#include <array>

#include "solver/flow2d/array2.hpp"
#include "solver/flow2d/problem.hpp"

namespace tuft::flow2d {

/// Geometry of one velocity component. "Along" is the component's own direction, "cross" the other.
/// Every array but `shear` and `stretch` has the shape of the component (faces).
struct ComponentMesh {
  Mask active;     ///< 1: the velocity is unknown (open face between two air cells, or an outlet)
  Array2 area;     ///< open area, depth included; 0 where blocked [m2]
  Array2 volume;   ///< of the momentum volume around the face [m3]
  Array2 depth;    ///< depth of the layer at the face [m]
  Array2 shear;    ///< area over distance between neighbours across, at the corner below (cross index) [m];
                   ///< one longer across than the component, 0 at rims and behind walls
  Array2 stretch;  ///< cells: area over distance between the two faces along, 0 beside a drag law [m]
  Array2 wall;     ///< area over distance to the walls that shear the volume [m]
  Array2 wall_speed;  ///< the same times the walls' own speed [m2/s]
};

struct Mesh {
  std::array<ComponentMesh, 2> component;
  Array2 depth;                            ///< cells [m]
  Array2 volume;                           ///< cells [m3]
  std::array<std::vector<Edge>, 4> edges;  ///< every side filled in

  explicit Mesh(const Problem& problem);
};

}  // namespace tuft::flow2d
