// The ratio of a circle's way round to its diameter, for the layers below solver/numerics.
#pragma once

namespace tuft::geometry {

constexpr double kPi = 3.14159265358979323846;

}  // namespace tuft::geometry
