// What decides how a case is solved, as JSON and back: results.json carries it, so that a page can solve
// anew; and plain values as JSON. For files that write or read results only: this header pulls in the JSON
// library.
#pragma once

#include <nlohmann/json.hpp>
#include <stdexcept>

#include "geometry/device/condition.hpp"

namespace tuft::io {

using Json = nlohmann::ordered_json;

/// Minus zero is zero: nobody should have to wonder what the sign of nothing means.
inline double plain(double value) { return value + 0.0; }

/// [x, y, z].
inline Json vector_json(const geometry::Vec3& vector) {
  return {plain(vector.x()), plain(vector.y()), plain(vector.z())};
}

/// Three rows.
inline Json matrix_json(const Eigen::Matrix3d& matrix) {
  Json rows = Json::array();
  for (int i = 0; i < 3; ++i) rows.push_back(vector_json(matrix.row(i).transpose()));
  return rows;
}

/// A list of what `part_of` makes of each item.
template <class Items, class PartOf>
Json list_json(const Items& items, PartOf part_of) {
  Json list = Json::array();
  for (const auto& item : items) list.push_back(part_of(item));
  return list;
}

/// A text or a JSON value that is no model. The message names the place and what is wrong with it:
/// "model.device.vents[3].cover.kind: 'perf' is none of open, perforated, mesh, ...".
class ModelError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// Device, room, poses, supports, loads, conditions and thresholds: the fields they list
/// (geometry/device/fields.hpp), in SI units and radians, with all their digits. Of a value the nominal one;
/// no spreads, sweeps, claims.
Json case_json(const geometry::Case& content);

/// The case of such a JSON value: what it solves to is what the case it was made from solves to, bit by bit.
/// Throws ModelError where a field is missing, unknown, of another kind, or points to something that is not
/// there.
geometry::Case case_of(const Json& json);

/// The same from text.
geometry::Case case_of_text(const std::string& text);

}  // namespace tuft::io
