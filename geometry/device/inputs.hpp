// The uncertain inputs of a whole case: which there are, and leaving some out.
#pragma once

#include "geometry/device/condition.hpp"

namespace tuft::geometry {

/// Leaves out the inputs that no value of the case stands for, with their correlations, and numbers the
/// others anew in the order of their keys, laws last: what is drawn for an input does not depend on where the
/// file has it, nor that of a value on whether laws are uncertain.
void keep_used_inputs(Case& content);

/// Takes the laws of the model as the case has them, without spread: what is uncertain then are the values of
/// the case alone.
void trust_laws(Case& content);

}  // namespace tuft::geometry
