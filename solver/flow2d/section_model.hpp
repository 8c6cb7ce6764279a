// A plane of a device on a grid: what is solved where. Plain data, made once for a cell size.
#pragma once

#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/flow2d/problem.hpp"
#include "solver/flow2d/section_plane.hpp"
#include "solver/flow2d/section_result.hpp"
#include "solver/flow2d/section_solve.hpp"
#include "solver/network/surface.hpp"

namespace tuft::flow2d {

/// A place a grid line has to pass through, and how small cells are to be there. Where two lie closer than a
/// third of the smaller size, the one given first stays.
struct Line {
  double at = 0.0;    ///< [m]
  double size = 0.0;  ///< of a cell beside it [m], > 0
};

/// The axis from the lowest to the highest line. The size of a cell at x is at most  size + growth |x - at|
/// for every line, and at most `largest`; between two neighbouring lines it varies smoothly and there is at
/// least one cell.
Axis axis_through(const std::vector<Line>& lines, double growth, double largest);

/// The screen as a slab that reaches across the device. Lengths along it count from its lower edge, depths
/// from the side that faces the keys.
struct Screen {
  geometry::Vec3 edge = geometry::Vec3::Zero();   ///< lower edge, on the side facing the keys [m]
  geometry::Vec3 along = geometry::Vec3::Zero();  ///< unit vector to the upper edge
  geometry::Vec3 back = geometry::Vec3::Zero();   ///< unit vector through it, away from the keys
  double length = 0.0, thickness = 0.0;           ///< [m]
};

/// Thickness of a screen [m] (judgement).
constexpr double kScreenThickness = 5e-3;

class Scene {
 public:
  Scene(const geometry::Case& content, const geometry::Condition& condition, const Plane& plane);

  const geometry::Device& device() const { return device_; }
  const Plane& plane() const { return plane_; }
  const std::optional<network::Surface>& surface() const { return surface_; }
  const std::optional<Screen>& screen() const { return screen_; }

  /// The point of the device frame at grid coordinates (a, b).
  geometry::Vec3 point(double a, double b) const;
  /// The chassis along the plane's first (0) or second (1) axis.
  Span chassis(int axis) const;
  /// What a cell with centre (a, b) and sides (da, db) is; never Part::mouth.
  Part part(double a, double b, double da, double db) const;
  /// Where the support's surface lies across grid axis `axis`, where it is one line of the grid.
  struct Floor {
    int axis = 0;
    bool high = false;  ///< it lies at the high end
    double at = 0.0;    ///< [m]
  };
  std::optional<Floor> level_floor() const;
  /// Lines that the grid has to pass through along an axis of the plane, the ends of the domain first.
  std::vector<Line> lines(int axis, double finest, double margin, int gap_cells) const;

 private:
  bool in_support(const geometry::Vec3& p) const;
  bool in_screen(const geometry::Vec3& p, double da, double db) const;
  Span extent(int axis, double margin) const;

  const geometry::Device& device_;
  Plane plane_;
  std::optional<network::Surface> surface_;
  std::optional<Screen> screen_;
  bool screen_shut_ = false;
};

/// A cell just inside a vent.
struct VentCell {
  int vent = 0;
  int i = 0, j = 0;
  double flow = 0.0;  ///< given, out of the device where > 0 [kg/(s m)]
};

struct SectionModel {
  Problem problem;
  Array2T<int> part;
  std::vector<VentCell> vent_cells;
  std::vector<VentCut> cuts;       ///< one per Device::vents
  std::vector<double> hidden;      ///< share of each that the lid hides [-]
  std::vector<double> lengths;     ///< of each vent in the plane [m]
  std::vector<std::string> notes;  ///< what can't be shown
};

/// Whether a temperature is so near to the room's that heat would be all round-off.
inline bool same_as_room(const Fluid& fluid, double t) { return std::abs(t - fluid.temperature) < 1e-4; }

/// `coarser` multiplies the cells' sides.
SectionModel make_model(const geometry::Case& content, const geometry::Condition& condition,
                        const SectionBoundaryData& given, const Plane& plane, const SectionOptions& options,
                        double coarser);

/// Opens the cells behind every vent that is cut, and gives them their flow. The model's solids are set
/// already.
void add_vent_cells(const Scene& scene, const SectionBoundaryData& given, SectionModel* model);

}  // namespace tuft::flow2d
