// The kernels themselves, included by each translation unit that builds them for one kind of machine.
// Everything is local to that unit and nothing of the standard library is used: a shared inline function
// compiled for a newer processor might otherwise be the one the linker keeps for everybody.
#pragma once

#include "solver/sparse/front_elimination.hpp"
#include "solver/sparse/front_kernels.hpp"
#include "solver/sparse/front_passes.hpp"

namespace tuft::field {
namespace {

template <class T>
constexpr FrontKernels<T> kKernels{factor<T>, pack<T>, forward<T>, backward<T>};

}  // namespace
}  // namespace tuft::field
