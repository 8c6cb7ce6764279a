// Figures of solved plan layers.
#pragma once

#include <string>
#include <vector>

#include "tools/figure/field_map.hpp"
#include "tools/io/field_lines.hpp"
#include "tools/io/field_run.hpp"

namespace tuft::output {

/// What a map shows.
enum class MapQuantity { temperature, speed };

/// The word for a quantity in file names.
const char* map_word(MapQuantity quantity);

/// Keeps the colours of air that is all but equally warm from making much of it: they run over 2 K at least.
void spread_colours(figure::FieldMap& map);

/// A layer seen from above as a map: colours, streamlines, the vents that open into it with the role the
/// field gives them, fans and fins, gravity. `lines` are those of all layers.
figure::FieldMap layer_map(const FieldRun& field, int layer, MapQuantity quantity,
                           const std::vector<FlowLine>& lines);

}  // namespace tuft::output
