#include <cstring>
#include <stdexcept>

#include "solver/study/sampler.hpp"

namespace tuft::study {
namespace {

class Writer {
 public:
  void number(double x) { bytes_.append(reinterpret_cast<const char*>(&x), sizeof x); }
  template <typename Whole>
  void whole(const Whole& n) {
    number(static_cast<double>(n));
  }
  void text(const std::string& words) {
    whole(words.size());
    bytes_ += words;
  }
  template <typename Entry, typename Each>
  void list(const std::vector<Entry>& entries, const Each& each) {
    whole(entries.size());
    for (const Entry& entry : entries) each(entry);
  }
  std::string take() { return std::move(bytes_); }

 private:
  std::string bytes_;
};

class Parser {
 public:
  explicit Parser(const std::string& bytes) : bytes_(bytes) {}

  void number(double& x) {
    need(sizeof x);
    std::memcpy(&x, bytes_.data() + at_, sizeof x);
    at_ += sizeof x;
  }
  template <typename Whole>
  void whole(Whole& n) {
    double x = 0.0;
    number(x);
    n = static_cast<Whole>(static_cast<int>(x));
  }
  void text(std::string& words) {
    const std::size_t n = count();
    need(n);
    words = bytes_.substr(at_, n);
    at_ += n;
  }
  template <typename Entry, typename Each>
  void list(std::vector<Entry>& entries, const Each& each) {
    entries.resize(count());
    for (Entry& entry : entries) each(entry);
  }

 private:
  std::size_t count() {
    double n = 0.0;
    number(n);
    if (!(n >= 0.0 && n <= static_cast<double>(bytes_.size())))
      throw std::runtime_error("a piece is garbled");
    return static_cast<std::size_t>(n);
  }
  void need(std::size_t n) const {
    if (bytes_.size() - at_ < n) throw std::runtime_error("a piece of the sample is cut short");
  }

  const std::string& bytes_;
  std::size_t at_ = 0;
};

// Everything of a view, in the order in which it travels; `way` writes or reads.
template <typename StateSummary, typename Way>
void travel(StateSummary& view, Way& way) {
  const auto number = [&](auto& x) { way.number(x); };
  way.whole(view.solved);
  if (!view.solved) return;
  way.number(view.through_flow);
  way.number(view.through_still_air);
  way.whole(view.flows_by_field);
  way.list(view.vents, [&](auto& vent) {
    way.whole(vent.role);
    for (auto* x :
         {&vent.inflow, &vent.outflow, &vent.face_velocity, &vent.temperature_in, &vent.temperature_out})
      way.number(*x);
  });
  for (auto* numbers : {&view.fan_speed, &view.source_temperature, &view.source_power, &view.part_temperature,
                        &view.skin_temperature, &view.zone_temperature})
    way.list(*numbers, number);
}

template <typename Failures, typename Way>
void travel_failures(Failures& failures, Way& way) {
  way.list(failures, [&](auto& failure) {
    way.whole(failure.sample);
    way.whole(failure.condition);
    way.text(failure.reason);
  });
}

}  // namespace

std::string pack(const Batch& batch, std::size_t first, std::size_t last) {
  Writer out;
  for (std::size_t i = first; i < last; ++i)
    for (const study::StateSummary& view : batch.views[i]) travel(view, out);
  travel_failures(batch.failures, out);
  return out.take();
}

void unpack(const std::string& bytes, std::size_t first, std::size_t last, Batch& batch) {
  Parser in(bytes);
  for (std::size_t i = first; i < last; ++i)
    for (study::StateSummary& view : batch.views[i]) travel(view, in);
  std::vector<Failure> failures;
  travel_failures(failures, in);
  batch.failures.insert(batch.failures.end(), failures.begin(), failures.end());
}

}  // namespace tuft::study
