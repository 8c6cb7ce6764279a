// What the fuzzers share: how one says that something is wrong.
#pragma once

#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>

namespace tuft::fuzz {

/// Ends the fuzzer, which then keeps the input.
[[noreturn]] inline void fail(const std::string& what) {
  std::fprintf(stderr, "WRONG: %s\n", what.c_str());
  std::abort();
}

inline void expect(bool is_so, const char* what) {
  if (!is_so) fail(what);
}

inline std::string text_of(const std::uint8_t* bytes, std::size_t size) {
  return {reinterpret_cast<const char*>(bytes), size};
}

}  // namespace tuft::fuzz

/// What libFuzzer calls with each input.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size);
