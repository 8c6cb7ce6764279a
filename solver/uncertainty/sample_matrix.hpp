// What the room is built on: samples as rows of a matrix, numbers of chance that are functions of their
// place, work shared among threads, and refusals.
#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <sstream>
#include <stdexcept>

namespace tuft::uncertainty {

/// A sample as a matrix: row i is point i, column j is input j.
using SampleMatrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

/// A closed interval of numbers.
struct Interval {
  double low = 0.0;
  double high = 0.0;
};

// Numbers that look random and are a pure function of their arguments: nothing has to be stepped in order, so
// threads can't change what comes out.

/// Scatters 64 bits, one to one: the finaliser of SplitMix64 (Steele, Lea & Flood, "Fast splittable
/// pseudorandom number generators", OOPSLA 2014; constants from memory).
constexpr std::uint64_t mix(std::uint64_t x) {
  x += 0x9e3779b97f4a7c15u;
  x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9u;
  x = (x ^ (x >> 27)) * 0x94d049bb133111ebu;
  return x ^ (x >> 31);
}

/// A key of its own for every pair.
constexpr std::uint64_t mix(std::uint64_t a, std::uint64_t b) { return mix(mix(a) ^ b); }

/// Uniform in (0, 1), never an end: number `counter` of the stream `key`.
constexpr double unit_uniform(std::uint64_t key, std::uint64_t counter) {
  return (static_cast<double>(mix(key, counter) >> 12) + 0.5) * 0x1p-52;
}

/// Uniform in 0 .. count - 1; `count` > 0 and far below 2^32, so that the unevenness doesn't show.
constexpr std::uint32_t below_count(std::uint64_t key, std::uint64_t counter, std::uint32_t count) {
  return static_cast<std::uint32_t>(((mix(key, counter) >> 32) * count) >> 32);
}

/// Calls body(i) for i in [0, count), shared among threads; each piece is done by one, so that results don't
/// depend on how many there are.
/// @pre body writes only what belongs to piece i, and does not throw.
template <class Body>
inline void for_each_piece(long count, const Body& body) {
#pragma omp parallel for schedule(static) if (count > 1)
  for (long i = 0; i < count; ++i) body(i);
}

/// The same for pieces that differ in what they cost: a thread takes the next one when it is done with its
/// own.
template <class Body>
inline void for_each_task(long count, const Body& body) {
#pragma omp parallel for schedule(dynamic, 1) if (count > 1)
  for (long i = 0; i < count; ++i) body(i);
}

/// Throws std::invalid_argument with the parts behind each other as its text.
template <class... Parts>
[[noreturn]] void refuse(const Parts&... parts) {
  std::ostringstream text;
  (text << ... << parts);
  throw std::invalid_argument(text.str());
}

/// Throws std::invalid_argument "<what> = <value>: must be > 0 and < 1" unless it is.
inline void require_inside(double value, const char* what) {
  if (!(value > 0.0 && value < 1.0)) refuse(what, " = ", value, ": must be > 0 and < 1");
}

}  // namespace tuft::uncertainty
