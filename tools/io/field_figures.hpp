// Figures of solved plan layers and of a section; what drawings need of vents.
#pragma once

#include <cstddef>
#include <vector>

#include "solver/flow2d/section_result.hpp"
#include "tools/figure/device_drawing.hpp"
#include "tools/figure/field_map.hpp"
#include "tools/io/field_lines.hpp"
#include "tools/io/field_run.hpp"

namespace tuft::io {

/// What a drawing of the device shows of its vents, one per Device::vents.
std::vector<figure::VentFlow> vent_flows(const study::ConditionResult& result);

/// What a map shows.
enum class MapQuantity { temperature, speed };

/// The word for a quantity in file names.
/// What its values are in.
geometry::ShownUnit map_unit(const FieldRun& field, MapQuantity quantity);

const char* map_word(MapQuantity quantity);

/// A vent's mark on a map: what it does by the flows shown, and where network and field differ on that, what
/// the network says, as a remark.
figure::MapVent map_mark(const FieldRun& field, std::size_t vent, bool shut);

/// A map without values yet: what it is of, in words, unit and colours.
figure::FieldMap blank_map(const FieldRun& field, MapQuantity quantity, const std::string& where,
                           const std::string& seen);

/// Adds streamlines that stay apart, with about so many places for them along the longer side `length` [m];
/// `place` puts a point of a line into the map.
void add_lines(const std::vector<FlowLine>& lines, double length, double places,
               const std::function<figure::Place(const FlowLine::Point&)>& place, figure::FieldMap& map);

/// Keeps the colours of air that is all but equally warm from making much of it: they run over 2 K at least.
void spread_colours(const geometry::ShownUnit& unit, figure::FieldMap& map);

/// True if the values of a map differ by less than anybody could measure (0.05 K, 1 mm/s): then it shows
/// nothing.
bool is_uniform(const figure::FieldMap& map, MapQuantity quantity, const geometry::ShownUnit& unit);

/// A layer seen from above as a map: colours, streamlines, the vents that open into it with the role the
/// field gives them, fans and fins, gravity. `lines` are those of all layers.
figure::FieldMap layer_map(const FieldRun& field, int layer, MapQuantity quantity,
                           const std::vector<FlowLine>& lines);

/// Quarter turns of the picture, counter-clockwise: as many as let gravity point down most.
class QuarterTurn {
 public:
  explicit QuarterTurn(const flow2d::SectionResult& result);

  /// A place of the section's own axes in the picture [m].
  figure::Place place(const figure::Place& at) const;

  int nx() const { return quarters_ % 2 == 0 ? nx_ : ny_; }  ///< cells of the picture
  int ny() const { return quarters_ % 2 == 0 ? ny_ : nx_; }

  /// Index in the section of a cell of the picture.
  std::size_t cell(int i, int j) const;

  /// Grid lines of the picture along x (0) or y (1) [m].
  std::vector<double> lines(const flow2d::SectionResult& result, int axis) const;

 private:
  int nx_, ny_, quarters_ = 0;
};

/// Streamlines of the section, in the plane's own axes. `field.section` is set.
std::vector<FlowLine> section_lines(const FieldRun& field);

/// The section as a map, turned by quarters until gravity points down the page as far as it can: the plume
/// rises. Device, support and screen are named; vents are drawn where they are cut.
figure::FieldMap section_map(const FieldRun& field, MapQuantity quantity, const std::vector<FlowLine>& lines);

}  // namespace tuft::io
