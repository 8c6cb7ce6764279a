#include "solver/study/pack.hpp"

#include <cstdint>
#include <cstring>
#include <stdexcept>

namespace tuft::ensemble {
namespace {

class Writer {
 public:
  void number(double x) { bytes_.append(reinterpret_cast<const char*>(&x), sizeof x); }
  void count(std::size_t n) { number(static_cast<double>(n)); }
  void numbers(const std::vector<double>& list) {
    count(list.size());
    for (const double x : list) number(x);
  }
  void text(const std::string& words) {
    count(words.size());
    bytes_ += words;
  }
  std::string take() { return std::move(bytes_); }

 private:
  std::string bytes_;
};

class Parser {
 public:
  explicit Parser(const std::string& bytes) : bytes_(bytes) {}

  double number() {
    double x = 0.0;
    need(sizeof x);
    std::memcpy(&x, bytes_.data() + at_, sizeof x);
    at_ += sizeof x;
    return x;
  }
  std::size_t count() {
    const double n = number();
    if (!(n >= 0.0 && n <= static_cast<double>(bytes_.size())))
      throw std::runtime_error("a piece is garbled");
    return static_cast<std::size_t>(n);
  }
  std::vector<double> numbers() {
    std::vector<double> list(count());
    for (double& x : list) x = number();
    return list;
  }
  std::string text() {
    const std::size_t n = count();
    need(n);
    at_ += n;
    return bytes_.substr(at_ - n, n);
  }

 private:
  void need(std::size_t n) const {
    if (bytes_.size() - at_ < n) throw std::runtime_error("a piece of the sample is cut short");
  }

  const std::string& bytes_;
  std::size_t at_ = 0;
};

void write(const study::View& view, Writer& out) {
  out.number(view.solved ? 1.0 : 0.0);
  if (!view.solved) return;
  out.number(view.through_flow);
  out.count(view.vents.size());
  for (const study::VentView& vent : view.vents) {
    out.number(static_cast<double>(vent.role));
    out.number(vent.inflow);
    out.number(vent.outflow);
    out.number(vent.face_velocity);
    out.number(vent.temperature_in);
    out.number(vent.temperature_out);
  }
  out.numbers(view.fan_speed);
  out.numbers(view.source_temperature);
  out.numbers(view.source_power);
  out.numbers(view.part_temperature);
  out.numbers(view.skin_temperature);
  out.numbers(view.zone_temperature);
}

study::View read_view(Parser& in) {
  study::View view;
  view.solved = in.number() == 1.0;
  if (!view.solved) return view;
  view.through_flow = in.number();
  view.vents.resize(in.count());
  for (study::VentView& vent : view.vents) {
    vent.role = static_cast<geometry::Role>(static_cast<int>(in.number()));
    vent.inflow = in.number();
    vent.outflow = in.number();
    vent.face_velocity = in.number();
    vent.temperature_in = in.number();
    vent.temperature_out = in.number();
  }
  view.fan_speed = in.numbers();
  view.source_temperature = in.numbers();
  view.source_power = in.numbers();
  view.part_temperature = in.numbers();
  view.skin_temperature = in.numbers();
  view.zone_temperature = in.numbers();
  return view;
}

}  // namespace

std::string pack(const Batch& batch, std::size_t first, std::size_t last) {
  Writer out;
  for (std::size_t i = first; i < last; ++i)
    for (const study::View& view : batch.views[i]) write(view, out);
  out.count(batch.failures.size());
  for (const Failure& failure : batch.failures) {
    out.count(static_cast<std::size_t>(failure.sample));
    out.count(static_cast<std::size_t>(failure.condition));
    out.text(failure.reason);
  }
  return out.take();
}

void unpack(const std::string& bytes, std::size_t first, std::size_t last, Batch& batch) {
  Parser in(bytes);
  for (std::size_t i = first; i < last; ++i)
    for (study::View& view : batch.views[i]) view = read_view(in);
  const std::size_t n = in.count();
  for (std::size_t i = 0; i < n; ++i) {
    Failure failure;
    failure.sample = static_cast<int>(in.number());
    failure.condition = static_cast<int>(in.number());
    failure.reason = in.text();
    batch.failures.push_back(std::move(failure));
  }
}

}  // namespace tuft::ensemble
