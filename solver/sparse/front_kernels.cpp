#include "solver/sparse/front_kernels.hpp"

#include "solver/sparse/front_kernels_body.hpp"

namespace tuft::field {

#if defined(TUFT_WIDE_KERNELS)
// In front_kernels_wide.cpp.
const FrontKernels<float>& wide_kernels_of(float);
const FrontKernels<double>& wide_kernels_of(double);
#endif

template <class Scalar>
const FrontKernels<Scalar>& baseline_kernels() {
  return kKernels<Scalar>;
}

template <class Scalar>
const FrontKernels<Scalar>* wide_kernels() {
#if defined(TUFT_WIDE_KERNELS)
  static const bool runs = __builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma");
  return runs ? &wide_kernels_of(Scalar(0)) : nullptr;
#else
  return nullptr;
#endif
}

template const FrontKernels<float>& baseline_kernels();
template const FrontKernels<double>& baseline_kernels();
template const FrontKernels<float>* wide_kernels();
template const FrontKernels<double>* wide_kernels();

}  // namespace tuft::field
