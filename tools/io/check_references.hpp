// Whether every index of a case points to something it has.
#pragma once

#include "geometry/device/condition.hpp"

namespace tuft::model {

/// Throws ModelError for the first index beyond its list, and for a place of a kind that cannot be there.
void check_references(const geometry::Case& content);

}  // namespace tuft::model
