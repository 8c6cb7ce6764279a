// Compiled for AVX2 and fused multiply-add (CMakeLists.txt); entered only where the machine has both.
#include "solver/sparse/front_kernels_body.hpp"

namespace tuft::sparse {

const FrontKernels<float>& wide_kernels_of(float);
const FrontKernels<double>& wide_kernels_of(double);

const FrontKernels<float>& wide_kernels_of(float) { return kKernels<float>; }
const FrontKernels<double>& wide_kernels_of(double) { return kKernels<double>; }

}  // namespace tuft::sparse
