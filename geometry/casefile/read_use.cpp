// Sections poses, supports, loads.
#include <fmt/core.h>

#include <algorithm>
#include <cctype>

#include "geometry/casefile/field_reader.hpp"
#include "geometry/casefile/nearest.hpp"

namespace tuft::casefile {
namespace {

using geometry::FanSetting;
using geometry::FanState;
using geometry::Support;
using geometry::SupportKind;
using geometry::Value;

// --- poses ---------------------------------------------------------------------------------------

// --- supports ------------------------------------------------------------------------------------

void read_gap(Reader& reader, const Item& item, const std::string& kind, Support& support) {
  // A stand's gap is its height, whatever the feet; anywhere else the feet count unless a gap is given.
  support.gap_given = reader.child(item, "gap") || support.kind == SupportKind::stand;
  if (support.gap_given)
    support.gap = reader.value(item, "gap", {kind});
  else
    reader.assume_default(item, "gap", {kind});
}

Support read_kind(Reader& reader, const Item& item, const std::string& kind) {
  Support support;
  support.kind = *geometry::kind_called<SupportKind>(kind);
  read_tilt(reader, item, kind, support.tilt);
  if (support.kind == SupportKind::air) return support;
  read_gap(reader, item, kind, support);
  FieldReader(reader, item, {kind}).rest(support);
  support.touches_given = static_cast<bool>(reader.child(item, "touches"));
  return support;
}

// A support without keys of its own: `sofa: soft`, or the table nobody wrote down.
Support bare_support(Reader& reader, const std::string& path, const std::string& kind) {
  return read_kind(reader, {&empty_map(), path, "supports.*", {1, 1}}, kind);
}

// --- loads ---------------------------------------------------------------------------------------

Value scaled(const Value& value, double factor) {
  Value out(*value * factor, value.spread, value.low * factor, value.high * factor, value.origin);
  out.input = value.input;
  out.scale = value.scale * factor;
  out.times = value.times;
  return out;
}

// A share of full speed shows the uncertainty of the share if it has one, else that of the full speed; it is
// made of both.
Value share_of_speed(const Value& share, const Value& speed) {
  if (share.spread == geometry::SpreadKind::none) return scaled(speed, *share);
  Value out = scaled(share, *speed);
  out.times = speed.input;
  return out;
}

bool begins_like_number(const std::string& text) {
  const auto first = static_cast<unsigned char>(text.empty() ? ' ' : text[0]);
  return std::isdigit(first) != 0 || first == '.' || first == '-' || first == '+';
}

std::optional<Value> read_speed(Reader& reader, const Item& item, const Value& full) {
  const std::string& text = item.node->text;
  const Quantity share = read_quantity(text, Dimension::share);
  if (!share.ok() || text.find('%') == std::string::npos) return reader.quantity(item);
  if (share.value.low < 0.0 || share.value.high > 1.0 + 1e-12)
    return reader.error(item, fmt::format("{} of full speed is out of range: 0 % to 100 %", in_quotes(text)));
  Value part = share.value;
  reader.add_input(item.path, share_key(item.pattern, ""), part, share.steps);
  return share_of_speed(part, full);
}

std::optional<FanSetting> follow_sensor(Reader& reader, const Item& item, int fan) {
  const geometry::Fan& followed = at(reader.device().fans, fan);
  if (followed.speed_control.given) return FanSetting{fan, FanState::speed_control, followed.speed};
  if (!reader.report.has_errors_in({"fans." + followed.name}))
    reader.error(item, fmt::format("the fan '{}' has nothing to follow", followed.name),
                 fmt::format("write `speed-control:` at fans.{}, or a speed here", followed.name));
  return std::nullopt;
}

constexpr double kLeastSpeed = (1.0 - 1e-9) / 60.0;  // of a fan that turns [rev/s]: 1 rpm

std::optional<FanSetting> read_setting(Reader& reader, const Item& item, int fan) {
  if (item.node->kind != Node::Kind::text)
    return reader.error(item,
                        "expected full, stopped, controlled, a speed (2100 rpm) or a share (60 %), found " +
                            describe(*item.node));
  const std::string& text = item.node->text;
  const Value& full = at(reader.device().fans, fan).speed;
  if (text == "full") {
    // It says nothing a load does not say by leaving the fan out, unless the fan would follow its sensor.
    if (!at(reader.device().fans, fan).speed_control.given) return std::nullopt;
    return FanSetting{fan, FanState::running, full};
  }
  if (text == "controlled") return follow_sensor(reader, item, fan);
  if (text == "stopped") return FanSetting{fan, FanState::stopped, Value(0.0)};
  if (!begins_like_number(text)) {
    const std::vector<std::string> words = {"full", "stopped", "controlled"};
    return reader.error(
        item, in_quotes(text) + " is none of full, stopped, controlled, a speed (2100 rpm) or a share (60 %)",
        hint_for(text, words));
  }
  const auto speed = read_speed(reader, item, full);
  if (!speed) return std::nullopt;
  if (**speed > 0.0 && **speed < kLeastSpeed)
    return reader.error(item, in_quotes(text) + " is less than 1 rpm",
                        "a fan that slow moves no air; write stopped");
  if (**speed > 1.05 * *full && *full > 0.0)
    reader.warning(item, "faster than the fan's full speed of " + write_quantity(*full, "rpm"));
  return FanSetting{fan, **speed > 0.0 ? FanState::running : FanState::stopped, *speed};
}

void read_load(Reader& reader, const Item& item, geometry::Load& load) {
  if (!reader.check_map(item)) return;
  for (const auto& [name, entry] : reader.entries(reader.child(item, "power"))) {
    const int source = reader.called(name, entry, {"sources"}).index;
    const auto watts = reader.quantity(entry);
    if (source >= 0 && watts) load.powers.push_back({source, *watts});
  }
  for (const auto& [name, entry] : reader.entries(reader.child(item, "fans"))) {
    const int fan = reader.called(name, entry, {"fans"}).index;
    const auto setting = fan < 0 ? std::nullopt : read_setting(reader, entry, fan);
    if (setting) load.fans.push_back(*setting);
  }
}

// Index of an entry by its name, which is made and added where it is missing.
template <class Thing, class Make>
int index_of(std::vector<Thing>& list, const std::string& name, const Make& make) {
  const auto it = std::find_if(list.begin(), list.end(), [&](const Thing& one) { return one.name == name; });
  if (it != list.end()) return static_cast<int>(it - list.begin());
  list.push_back(make());
  list.back().name = name;
  return static_cast<int>(list.size()) - 1;
}

}  // namespace

void read_pose(Reader& reader, const Item& item, geometry::Pose& pose) {
  const std::string name = pose.name;
  if (contains(geometry::pose_words(), name))
    reader.key_error(item, fmt::format("the pose '{}' is known already", name), "choose another name");
  if (item.node->kind == Node::Kind::text) {
    const std::string word = bare_word(reader, item);
    if (!word.empty()) pose = geometry::named_pose(word);
  } else {
    reader.check_map(item);
    const auto tilt = reader.given(item, "tilt");
    const geometry::Vec3 axis = reader.axis(item, "about");
    if (tilt && axis.norm() > 0.5) pose = geometry::tilted(name, axis, **tilt);
  }
  pose.name = name;
}

int pose_index(Reader& reader, const std::string& name) {
  return index_of(reader.content().poses, name, [&] { return geometry::named_pose(name); });
}

void read_support(Reader& reader, const Item& item, Support& support) {
  const std::string name = support.name;
  const bool bare = item.node->kind == Node::Kind::text;
  std::string kind;
  if (bare) {
    kind = bare_word(reader, item);
  } else if (item.node->kind == Node::Kind::map) {
    kind = reader.word(item, "kind");
  }
  if (!bare) reader.check_map(item, kind);
  const std::string fixed = name == "air" ? "air" : name == "table" ? "hard" : "";
  if (!kind.empty() && !fixed.empty() && kind != fixed)
    reader.key_error(item, fmt::format("'{}' is always of kind '{}'", name, fixed), "choose another name");
  if (!kind.empty()) support = bare ? bare_support(reader, item.path, kind) : read_kind(reader, item, kind);
  support.name = name;
}

int support_index(Reader& reader, const std::string& name) {
  return index_of(reader.content().supports, name,
                  [&] { return bare_support(reader, "supports." + name, name == "air" ? "air" : "hard"); });
}

void read_loads(Reader& reader, const Item& root) {
  if (reader.child(root, "loads")) return reader.read_named("loads", reader.content().loads, read_load);
  reader.content().loads.push_back(geometry::Load{});
  reader.assume_default({}, "loads");
}

}  // namespace tuft::casefile
