// Central difference, to hold derivatives against.
#pragma once

namespace tuft::test {

/// (f(x + h) - f(x - h)) / 2h.
template <class Function>
double central_difference(const Function& f, double x, double h) {
  return (f(x + h) - f(x - h)) / (2.0 * h);
}

}  // namespace tuft::test
