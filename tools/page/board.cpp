#include "tools/page/board.hpp"

#include <stdexcept>

#include "geometry/casefile/read_document.hpp"
#include "geometry/casefile/tree_builder.hpp"
#include "solver/numerics/constants.hpp"
#include "tools/io/solution_json.hpp"

namespace tuft::page {
namespace {

using casefile::Diagnostic;
using casefile::Spot;
using geometry::Device;
using io::Json;
using io::list_json;
using io::plain;
using io::vector_json;

constexpr const char* kFirstLine = "a case begins with 'tuft: 1'";

// --- from events to a tree -------------------------------------------------------------------------

void take_event(const Json& event, casefile::TreeBuilder& tree) {
  const std::string kind = event.at(0);
  if (kind == "e") return tree.close();
  const Spot spot{event.at(1), event.at(2)};
  if (kind == "d") return tree.document(spot);
  if (kind == "n") return tree.nothing(spot);
  if (kind == "a") return tree.alias(spot);
  if (kind == "m") return tree.open(spot, "", casefile::Node::Kind::map);
  if (kind == "l") return tree.open(spot, "", casefile::Node::Kind::list);
  tree.scalar(spot, event.size() > 4 ? event[4].get<std::string>() : "", event.at(3));
}

void read_events(const Json& request, const std::string& text, casefile::CaseFile& file,
                 casefile::Report& report) {
  if (const casefile::TextFault fault = casefile::find_text_fault(text); !fault.message.empty()) {
    report.error(fault.spot, "", fault.message);
    return;
  }
  const auto top = tree_of(request.at("events"), report);
  if (!top) {
    if (!report.has_errors()) report.error({1, 1}, "", "the file is empty", kFirstLine);
  } else if (top->kind == casefile::Node::Kind::map) {
    casefile::read_document(*top, file, report);
  } else {
    report.error(top->spot, "", "expected a map of keys, found " + casefile::describe(*top), kFirstLine);
  }
}

// --- what the page draws ---------------------------------------------------------------------------

Json diagnostics_json(const std::vector<Diagnostic>& list, const std::string& text) {
  return list_json(list, [&](const Diagnostic& one) -> Json {
    return {{"line", one.line},       {"column", one.column}, {"key", one.key},
            {"message", one.message}, {"hint", one.hint},     {"text", casefile::format(one, text)}};
  });
}

// The name of what a place is at; empty while the file has no such thing.
std::string name_at(const Device& device, const geometry::Place& place) {
  const auto known = [&](const auto& list) {
    return place.index >= 0 && static_cast<std::size_t>(place.index) < list.size();
  };
  using geometry::PlaceKind;
  const bool there = place.kind == PlaceKind::zone   ? known(device.zones)
                     : place.kind == PlaceKind::fins ? known(device.fin_stacks)
                     : place.kind == PlaceKind::vent ? known(device.vents)
                                                     : known(device.fans);
  return there ? geometry::place_name(device, place) : "";
}

// Width and height lie along the two axes of the face.
template <class Thing>
Json patch_json(const Thing& thing) {
  return {{"name", thing.name},
          {"face", geometry::word_of(thing.face)},
          {"centre", vector_json(thing.centre)},
          {"size", {plain(thing.width), plain(thing.height)}}};
}

Json vent_shape(const Device& device, const geometry::Vent& vent) {
  Json json = patch_json(vent);
  json["turned"] = plain(vent.turned / numerics::kDegree);
  json["leak"] = vent.is_leak;
  json["kind"] = geometry::word_of(vent.cover.kind);
  json["behind"] = name_at(device, vent.behind);
  return json;
}

Json box_json(const std::string& name, const geometry::Vec3& centre, const geometry::Vec3& size) {
  return {{"name", name}, {"centre", vector_json(centre)}, {"size", vector_json(size)}};
}

Json passage_json(const geometry::Passage& passage) {
  const double across[] = {*passage.width, *passage.height};
  geometry::Vec3 size = geometry::Vec3::Zero();
  for (int axis = 0, next = 0; axis < 3; ++axis)
    if (axis != passage.normal) size[axis] = across[next++];
  Json json = box_json(passage.name, passage.centre, size);
  json["across"] = std::string(1, "xyz"[passage.normal]);
  return json;
}

// An axial fan in a vent turns about the vent's normal; `axis`: 0 x, 1 y, 2 z.
Json fan_json(const Device& device, const geometry::Fan& fan) {
  int axis = 2;
  if (!name_at(device, fan.draws_from).empty() && !name_at(device, fan.blows_into).empty())
    geometry::fan_axis(fan, device).maxCoeff(&axis);
  return {{"name", fan.name},
          {"kind", geometry::word_of(fan.kind)},
          {"centre", vector_json(fan.centre)},
          {"diameter", plain(*fan.diameter)},
          {"thickness", plain(*fan.thickness)},
          {"axis", axis},
          {"draws_from", name_at(device, fan.draws_from)},
          {"blows_into", name_at(device, fan.blows_into)}};
}

Json fins_json(const Device& device) {
  Json list = Json::array();
  for (std::size_t i = 0; i < device.fin_stacks.size(); ++i)
    list.push_back(
        box_json(device.fin_stacks[i].name, device.fin_stacks[i].centre, geometry::fin_extents(device, i)));
  return list;
}

Json sources_json(const Device& device) {
  return list_json(device.sources, [](const geometry::Source& source) {
    Json json = box_json(source.name, source.centre, source.size);
    json["placed"] = source.is_placed;
    return json;
  });
}

void add_shapes(Json& json, const Device& device) {
  json["device"] = {{"name", device.name}, {"size", vector_json(device.size)}, {"feet", plain(*device.feet)}};
  json["zones"] =
      list_json(device.zones, [](const geometry::Zone& z) { return box_json(z.name, z.centre, z.size); });
  json["passages"] = list_json(device.passages, passage_json);
  json["vents"] = list_json(device.vents, [&](const geometry::Vent& v) { return vent_shape(device, v); });
  json["fans"] = list_json(device.fans, [&](const geometry::Fan& f) { return fan_json(device, f); });
  json["fins"] = fins_json(device);
  json["sources"] = sources_json(device);
  json["skin"] = list_json(device.skins, [](const geometry::Skin& s) { return patch_json(s); });
}

void add_questions(Json& json, const geometry::Case& content) {
  json["conditions"] = list_json(content.conditions, [&](const geometry::Condition& c) -> Json {
    return {{"name", c.name},
            {"pose", content.poses[c.pose].name},
            {"support", content.supports[c.support].name},
            {"load", content.loads[c.load].name}};
  });
  json["claims"] = list_json(content.claims, [&](const geometry::Claim& claim) -> Json {
    return {{"id", claim.id}, {"say", claim.say}, {"when", content.conditions[claim.when].name}};
  });
}

Json assumed_json(const std::vector<casefile::Assumption>& list) {
  Json json = Json::object();
  for (const casefile::Assumption& one : list) json[one.key] = {one.value, one.sentence};
  return json;
}

std::string text_of(const Json& json) { return json.dump(-1, ' ', false, Json::error_handler_t::replace); }

const char* word_of_verdict(study::Verdict verdict) {
  return verdict == study::Verdict::holds   ? "holds"
         : verdict == study::Verdict::fails ? "fails"
                                            : "undecided";
}

}  // namespace

std::optional<casefile::Node> tree_of(const io::Json& events, casefile::Report& report) {
  casefile::TreeBuilder tree(report);
  for (const Json& event : events) {
    take_event(event, tree);
    if (tree.has_stopped()) return std::nullopt;
  }
  if (!tree.has_document()) return std::nullopt;
  return tree.take_root();
}

std::string Board::read(const std::string& request_text) {
  const Json request = Json::parse(request_text);
  file_ = {};
  results_.clear();
  file_.path = request.at("name");
  file_.text = request.at("text");
  const std::string plain_text = casefile::normalised(file_.text);
  casefile::Report report(file_.path, plain_text);
  read_events(request, plain_text, file_, report);
  const bool sound = !report.has_errors();
  Json json = {{"sound", sound},
               {"errors", diagnostics_json(report.errors(), plain_text)},
               {"warnings", diagnostics_json(report.warnings(), plain_text)}};
  add_shapes(json, file_.content.device);
  if (sound) add_questions(json, file_.content);
  if (sound) json["assumed"] = assumed_json(file_.assumptions);
  if (sound) results_.resize(file_.content.conditions.size());
  return text_of(json);
}

std::string Board::solved(int condition) {
  if (condition < 0 || static_cast<std::size_t>(condition) >= results_.size())
    throw std::invalid_argument("condition " + std::to_string(condition) + " is not in the case");
  study::ConditionResult& result = results_[condition];
  result = study::predict(file_.content, condition, study::StateSearch::none);
  const geometry::Condition& solved = file_.content.conditions[condition];
  Json json = {{"name", result.name},
               {"pose_to_world", io::matrix_json(file_.content.poses[solved.pose].to_world)}};
  io::add_solution(json, file_.content, result);
  return text_of(json);
}

std::string Board::judged() const {
  Json list = Json::array();
  const geometry::Case& content = file_.content;
  for (std::size_t i = 0; i < content.claims.size(); ++i) {
    bool ready = true;
    for (const int condition : geometry::conditions_of(content.claims[i]))
      ready = ready && !results_[condition].vents.empty();
    Json json = {{"id", content.claims[i].id}, {"verdict", "open"}, {"because", ""}};
    if (ready) {
      const study::ClaimResult claim = study::judge(content, static_cast<int>(i), results_);
      json["verdict"] = word_of_verdict(claim.verdict);
      json["because"] = claim.because;
    }
    list.push_back(json);
  }
  return text_of(list);
}

std::uint8_t* Board::photo(int number, int width, int height) {
  Pixels& pixels = photos_[number];
  pixels = {width, height, std::vector<std::uint8_t>(4 * static_cast<std::size_t>(width) * height)};
  return pixels.rgba.data();
}

const geometry::Photo* Board::photo_called(const std::string& name) const {
  for (const geometry::Photo& photo : file_.content.photos)
    if (photo.name == name) return &photo;
  return nullptr;
}

Pixels Board::straightened(const std::string& request_text) const {
  const Json request = Json::parse(request_text);
  const auto pixels = photos_.find(request.at("number"));
  const geometry::Photo* stated = photo_called(request.at("name"));
  if (pixels == photos_.end() || stated == nullptr) return {};
  return on_face(pixels->second, *stated, file_.content.device.size, request.at("right"), request.at("down"),
                 request.at("width"), request.at("height"));
}

template <class See>
std::string Board::seen(const std::string& request_text, See see) const {
  const Json request = Json::parse(request_text);
  const auto pixels = photos_.find(request.at("number"));
  const geometry::Photo* stated = photo_called(request.at("name"));
  if (pixels == photos_.end() || stated == nullptr) throw std::invalid_argument("there is no such photo");
  const Pixels& photo = pixels->second;
  const photo::Picture picture = photo::picture_of_rgba(photo.rgba.data(), photo.width, photo.height);
  return text_of(see(picture, *stated, file_.content.device.size, request));
}

std::string Board::corners(const std::string& request_text) const {
  const Json request = Json::parse(request_text);
  const auto pixels = photos_.find(request.at("number"));
  if (pixels == photos_.end()) throw std::invalid_argument("there is no such photo");
  const Pixels& photo = pixels->second;
  return text_of(seen_corners(photo::picture_of_rgba(photo.rgba.data(), photo.width, photo.height),
                              file_.content.device.size, request));
}

std::string Board::open_area(const std::string& request) const { return seen(request, seen_open_area); }
std::string Board::two_holes(const std::string& request) const { return seen(request, seen_two_holes); }

}  // namespace tuft::page
