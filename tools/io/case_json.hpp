// What decides how a case is solved, as JSON and back: results.json carries it, so that a page can solve
// anew.
#pragma once

#include <stdexcept>

#include "geometry/device/condition.hpp"
#include "tools/io/model_values.hpp"

namespace tuft::model {

/// A text or a JSON value that is no model. The message names the place and what is wrong with it:
/// "model.device.vents[3].cover.kind: 'perf' is none of open, perforated, mesh, louvre, slots, foam".
class ModelError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// Device, room, poses, supports, loads, conditions and thresholds: the fields they list
/// (geometry/device/fields.hpp), in SI units and radians, with all their digits. Of a value the nominal one; no
/// spreads, sweeps, claims.
Json case_json(const geometry::Case& content);

/// The case of such a JSON value: what it solves to is what the case it was made from solves to, bit by bit.
/// Throws ModelError where a field is missing, unknown, of another kind, or points to something that is not
/// there.
geometry::Case case_of(const Json& json);

/// The same from text.
geometry::Case case_of_text(const std::string& text);

}  // namespace tuft::model
