#include "tests/study/support.hpp"

#include "solver/study/sample.hpp"

namespace tuft::study::test {
namespace {

void add(const uncertainty::SampleMatrix& rows, std::string& bytes) {
  bytes.append(reinterpret_cast<const char*>(rows.data()),
               static_cast<std::size_t>(rows.size()) * sizeof(double));
}

}  // namespace

int condition_of(const geometry::Case& content, const std::string& name) {
  for (std::size_t i = 0; i < content.conditions.size(); ++i)
    if (content.conditions[i].name == name) return static_cast<int>(i);
  throw std::runtime_error("no condition " + name);
}

std::string bytes_of(const Ensemble& ensemble) {
  Batch batch;
  batch.views = ensemble.views;
  batch.failures = ensemble.failures;
  std::string bytes = pack(batch, 0, batch.views.size());
  add(ensemble.points, bytes);
  add(ensemble.values, bytes);
  for (const double weight : ensemble.weights) bytes += weight > 0.0 ? '1' : '0';
  for (const uncertainty::Probability& claim : ensemble.claims) {
    uncertainty::SampleMatrix numbers(1, 4);
    numbers << claim.value, claim.standard_error, claim.interval.low, claim.interval.high;
    add(numbers, bytes);
  }
  return bytes + std::to_string(static_cast<int>(ensemble.progress));
}

}  // namespace tuft::study::test
