// What a page carries of a sweep: of many angles what can be seen, and no more.
#pragma once

#include <nlohmann/json.hpp>
#include <vector>

namespace tuft::page {

/// Points of a sweep that a page carries, by their places in the results.
struct CarriedPoints {
  std::vector<std::size_t> shown;  ///< in tables and curves
  std::vector<std::size_t> drawn;  ///< those of them with a drawing, for where no solver runs in the page
};

/// At most some 400 points are shown and some 70 drawn, evenly, and with them the last; where a vent changes
/// its role, or the solution is lost, the points to both sides are shown however many there are, and drawn
/// unless there are very many. `points` as results hold them.
CarriedPoints carried_points(const nlohmann::ordered_json& points);

/// A sweep of results with those points. Of each vent it keeps the values of `fields` as a list, in the order
/// of the device's vents, to eight digits; `of` is how many points there were, and a point that is drawn says
/// so.
nlohmann::ordered_json carried_sweep(const nlohmann::ordered_json& sweep, const CarriedPoints& carried);

}  // namespace tuft::page
