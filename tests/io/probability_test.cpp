// Probabilities in words: never surer than the samples, never across the line of a verdict.
#include <catch2/catch.hpp>

#include "tools/io/numbers.hpp"

using namespace tuft::io;
using tuft::uncertainty::Probability;

namespace {

Probability of(double value, double low, double high) {
  Probability probability;
  probability.value = value;
  probability.interval = {low, high};
  return probability;
}

}  // namespace

TEST_CASE("a probability is rounded towards one half") {
  CHECK(probability_text(0.57) == "57 %");
  CHECK(probability_text(0.891) == "89 %");
  CHECK(probability_text(0.4301) == "44 %");
  CHECK(probability_text(0.5) == "50 %");
  // A claim holds from 95 % on and fails up to 5 %: the words stay on their side.
  CHECK(probability_text(0.9499) == "94 %");
  CHECK(probability_text(0.95) == "95 %");
  CHECK(probability_text(0.0501) == "6 %");
  CHECK(probability_text(0.05) == "5 %");
  CHECK(probability_text(0.9999) == "99 %");
  CHECK(probability_text(0.0001) == "1 %");
  // So near to certain that round-off would make it so.
  CHECK(probability_text(1.0 - 1e-14) == "99 %");
  CHECK(probability_text(1e-14) == "1 %");
}

TEST_CASE("nothing is certain by samples") {
  CHECK(probability_text(of(1.0, 0.994, 1.0)) == "at least 99 %");
  CHECK(probability_text(of(1.0, 0.87, 1.0)) == "at least 87 %");
  CHECK(probability_text(of(0.0, 0.0, 0.006)) == "at most 1 %");
  CHECK(probability_text(1.0) == "at least 99 %");
  CHECK(probability_text(0.0) == "at most 1 %");
  // One device alone, nothing sampled.
  CHECK(probability_text(of(1.0, 1.0, 1.0)) == "sure as described");
  CHECK(probability_text(of(0.0, 0.0, 0.0)) == "never as described");
}

TEST_CASE("intervals widen when they are rounded") {
  CHECK(interval_text({0.411, 0.459}) == "41 to 46 %");
  CHECK(interval_text({0.976, 1.0}) == "at least 97 %");
  CHECK(interval_text({0.0, 0.021}) == "at most 3 %");
  CHECK(interval_text({0.0, 1.0}) == "anything");
  CHECK(probability_with_interval(of(0.43, 0.411, 0.459)) == "43 % (41 to 46 %)");
  CHECK(probability_with_interval(of(1.0, 0.994, 1.0)) == "at least 99 %");
  CHECK(probability_with_interval(of(0.99, 0.973, 1.0)) == "99 % (at least 97 %)");
  // What says one thing twice says it once.
  CHECK(probability_with_interval(of(0.9985, 0.991, 1.0)) == "at least 99 %");
  CHECK(probability_with_interval(of(0.0015, 0.0, 0.009)) == "at most 1 %");
}

TEST_CASE("a balance that closes says so, another by how much it does not") {
  CHECK(closure_text(2e-17) == "closed");
  CHECK(closure_text(0.0) == "closed");
  CHECK(closure_text(-3.2e-5) == "open by 3e-05");
}
