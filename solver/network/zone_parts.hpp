// A zone's air divided among its openings: which part of the box lies nearest to which (docs/theory.md, N8).
#pragma once

#include <vector>

#include "solver/network/graph.hpp"

namespace tuft::network {

/// Where two parts of a box touch.
struct PartFace {
  int a = 0, b = 0;
  Vec3 area = Vec3::Zero();  ///< vector area, from a to b [m2]
};

struct Parts {
  Vec3 centre = Vec3::Zero(), size = Vec3::Zero();  ///< of the box divided [m]
  std::vector<Vec3> places;                         ///< among which it is divided [m]
  std::vector<double> share;  ///< of the box's volume; 0: another place is nearer everywhere
  std::vector<PartFace> faces;

  /// True if dividing this box among these places gives these parts.
  bool are_of(const Vec3& box_centre, const Vec3& box_size, const std::vector<Vec3>& box_places) const {
    return centre == box_centre && size == box_size && places == box_places;
  }
};

/// Index of the place nearest to a point.
int nearest_place(const Vec3& point, const std::vector<Vec3>& places);

/// Divides a box among places in or on it, by distance, on a grid of 12 to 32 cells along each side on which
/// the places differ.
Parts parts_of_box(const Vec3& centre, const Vec3& size, const std::vector<Vec3>& places);

/// What is doubtful about the streams inside a zone.
struct StreamOptions {
  /// Factor on the streams' loss of momentum: c of N8 and its least value [-], > 0. A deviation by a factor
  /// of 2.4 makes the flows scatter as they do about the field's, of 4.8 where the heat comes from one wall
  /// (N8).
  double loss_factor = 1.0;
};

/// Loss coefficient on the velocity through each face, from the momentum that air has to be given on its way
/// up past the openings: c (Q_b - Q_a)/n^2 from the lower part a to the upper b. n is the flow to be
/// expected, as the height over the box's lowest point to the power 0.8; Q the mean of n^2 below and above an
/// opening, 0 at the lowest and that below at the highest.
std::vector<double> stream_losses(const Vec3& centre, const Vec3& size, const Vec3& gravity,
                                  const std::vector<Vec3>& places, const std::vector<PartFace>& faces,
                                  const StreamOptions& options = {});

}  // namespace tuft::network
