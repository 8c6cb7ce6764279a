// Numbers that look random and are a pure function of their arguments: nothing has to be stepped in order, so
// threads can't change what comes out.
#pragma once

#include <cstdint>

namespace tuft::doubt {

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

}  // namespace tuft::doubt
