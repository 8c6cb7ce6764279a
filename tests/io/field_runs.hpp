// Fields that the tests of the writers share.
#pragma once

#include "tools/io/field_run.hpp"

namespace tuft::test {

constexpr double kCell = 0.01;  // side of a cell in them [m]

/// Two rooms with a passage between them, solved. Air comes in by slots in front and left and a grille in the
/// base of the first, and a fan in the second blows it out to the right. Solved once.
const io::FieldRun& rooms();

/// A straight channel made by hand: air comes in at the left, goes out at the right, uniform, 1 m/s.
flow2d::PlanResult channel();

/// The device whose layer that is: 0.2 m by 0.08 m, vents "in" and "out".
geometry::Device channel_device();

}  // namespace tuft::test
