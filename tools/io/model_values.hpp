// Plain values as JSON. For files that write or read results only: this header pulls in the JSON library.
#pragma once

#include <nlohmann/json.hpp>

#include "geometry/device/device.hpp"

namespace tuft::model {

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

}  // namespace tuft::model
