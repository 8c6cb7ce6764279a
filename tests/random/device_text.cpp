// A random device as the text of a case file, its maps in the order given or in any other.
#include <fmt/format.h>

#include <algorithm>

#include "tests/random/dice.hpp"
#include "tests/random/random_device.hpp"

namespace tuft::test {
namespace {

class Writer {
 public:
  explicit Writer(std::uint64_t order) : order_(order), dice_(order) {}

  /// A map in braces.
  std::string map(Entries entries) {
    shuffle(entries);
    std::string out;
    for (const auto& [key, value] : entries) out += (out.empty() ? "" : ", ") + key + ": " + value;
    return "{" + out + "}";
  }

  /// Things by their names, one a line.
  void section(const std::string& key, Entries things) {
    if (things.empty()) return;
    shuffle(things);
    std::string out = key + ":\n";
    for (const auto& [name, value] : things) out += "  " + name + ": " + value + "\n";
    sections_.push_back(out);
  }

  void line(const std::string& key, const std::string& value) {
    sections_.push_back(key + ": " + value + "\n");
  }

  std::string text() {
    shuffle(sections_);
    std::string out;
    for (const std::string& section : sections_) out += section;
    return out;
  }

 private:
  template <class List>
  void shuffle(List& list) {
    if (order_ == 0) return;
    for (std::size_t i = list.size(); i > 1; --i)
      std::swap(list[i - 1], list[static_cast<std::size_t>(dice_.whole(0, static_cast<int>(i) - 1))]);
  }

  std::uint64_t order_;
  Dice dice_;
  std::vector<std::string> sections_;
};

std::string mm(double value) { return number(value) + " mm"; }
std::string list(const Point& point) {
  return "[" + mm(point[0]) + ", " + mm(point[1]) + ", " + mm(point[2]) + "]";
}
std::string list(const Pair& pair) { return "[" + mm(pair[0]) + ", " + mm(pair[1]) + "]"; }
std::string list(const std::vector<std::string>& names) {
  std::string out;
  for (const std::string& name : names) out += (out.empty() ? "" : ", ") + name;
  return "[" + out + "]";
}

Entries with(Entries entries, const Entries& more) {
  entries.insert(entries.end(), more.begin(), more.end());
  return entries;
}

Entries patch(const RandomPatch& one) {
  Entries out{{"face", one.face}, {"size", list(one.size)}};
  out.emplace_back("centre", one.face == "hinge" ? "[" + mm(one.centre[0]) + "]" : list(one.centre));
  if (one.turned != 0.0) out.emplace_back("turned", number(one.turned) + " deg");
  if (!one.behind.empty()) out.emplace_back("behind", one.behind);
  return with(out, one.more);
}

std::string heat(Writer& to, const RandomHeat& one) {
  Entries out = one.more;
  if (!one.joins.empty()) out.emplace_back("joins", to.map(one.joins));
  if (!one.heats.empty()) out.emplace_back("heats", to.map(one.heats));
  if (one.has_box) {
    out.emplace_back("from", list(one.from));
    out.emplace_back("to", list(one.to));
  }
  return to.map(out);
}

std::string pose(Writer& to, const RandomPose& one) {
  if (!one.word.empty()) return one.word;
  return to.map({{"tilt", number(one.tilt) + " deg"},
                 {"about", fmt::format("[{}, {}, {}]", number(one.axis[0]), number(one.axis[1]),
                                       number(one.axis[2]))}});
}

std::string support(Writer& to, const RandomSupport& one) {
  Entries out = one.more;
  out.emplace_back("tilt", to.map({{"x", number(one.tilt_x) + " deg"}, {"y", number(one.tilt_y) + " deg"}}));
  if (one.says_touches) out.emplace_back("touches", list(one.touches));
  if (!one.over.empty()) out.emplace_back("over", list(one.over));
  return to.map(out);
}

void write_spaces(Writer& to, const RandomDevice& device) {
  Entries things;
  for (const RandomBox& zone : device.zones)
    things.emplace_back(zone.name,
                        to.map(with({{"from", list(zone.from)}, {"to", list(zone.to)}}, zone.more)));
  to.section("zones", things);
  things.clear();
  for (const RandomPassage& one : device.passages)
    things.emplace_back(one.name, to.map(with({{"between", list(std::vector{one.one, one.other})},
                                               {"across", std::string(1, "xyz"[one.across])},
                                               {"at", list(one.at)}},
                                              one.more)));
  to.section("passages", things);
  things.clear();
  for (const RandomPatch& vent : device.vents) things.emplace_back(vent.name, to.map(patch(vent)));
  to.section("vents", things);
  things.clear();
  for (const RandomPatch& skin : device.skins) things.emplace_back(skin.name, to.map(patch(skin)));
  to.section("skin", things);
}

void write_things(Writer& to, const RandomDevice& device) {
  Entries things;
  for (const RandomThing& fan : device.fans)
    things.emplace_back(
        fan.name,
        to.map(with({{"draws-from", fan.from}, {"blows-into", fan.to}, {"at", list(fan.at)}}, fan.more)));
  to.section("fans", things);
  things.clear();
  for (const RandomThing& stack : device.fins) {
    Entries out = with({{"at", list(stack.at)}}, stack.more);
    if (!stack.to.empty()) out.emplace_back("exits-into", stack.to);
    things.emplace_back(stack.name, to.map(out));
  }
  to.section("fins", things);
  things.clear();
  for (const RandomHeat& one : device.sources) things.emplace_back(one.name, heat(to, one));
  to.section("sources", things);
  things.clear();
  for (const RandomHeat& one : device.parts) things.emplace_back(one.name, heat(to, one));
  to.section("parts", things);
}

void write_use(Writer& to, const RandomDevice& device) {
  Entries things;
  for (const RandomPose& one : device.poses) things.emplace_back(one.name, pose(to, one));
  to.section("poses", things);
  things.clear();
  for (const RandomSupport& one : device.supports) things.emplace_back(one.name, support(to, one));
  to.section("supports", things);
  things.clear();
  for (const RandomLoad& one : device.loads) {
    Entries out;
    if (!one.power.empty()) out.emplace_back("power", to.map(one.power));
    if (!one.fans.empty()) out.emplace_back("fans", to.map(one.fans));
    things.emplace_back(one.name, to.map(out));
  }
  to.section("loads", things);
  things.clear();
  for (const RandomDevice::Condition& one : device.conditions) {
    Entries out{{"pose", one.pose}, {"support", one.support}, {"load", one.load}};
    if (one.lid >= 0.0) out.emplace_back("lid", number(one.lid) + " deg");
    things.emplace_back(one.name, to.map(out));
  }
  to.section("conditions", things);
}

}  // namespace

std::string number(double value) {
  const std::string out = fmt::format("{:.10g}", value);
  return out == "-0" ? "0" : out;
}

std::string case_text(const RandomDevice& device, std::uint64_t order) {
  Writer to(order);
  to.line("tuft", "1");
  to.line("device", to.map({{"name", "Random"}, {"size", list(device.size)}, {"feet", device.feet}}));
  Entries room = device.room;
  room.emplace_back("draught", to.map({{"speed", number(device.draught) + " m/s"},
                                       {"from", number(device.draught_from) + " deg"}}));
  to.line("room", to.map(room));
  if (device.has_lid) to.line("lid", to.map(device.lid));
  if (device.says_leaks) to.line("leaks", "{}");
  write_spaces(to, device);
  write_things(to, device);
  write_use(to, device);
  return to.text();
}

}  // namespace tuft::test
