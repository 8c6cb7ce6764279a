#include "tools/page/page.hpp"

#include <fmt/format.h>
#include <zlib.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <sstream>
#include <stdexcept>
#include <vector>

#include "geometry/casefile/generic.hpp"
#include "tools/figure/marks.hpp"
#include "tools/figure/png.hpp"
#include "tools/io/case_json.hpp"
#include "tools/io/utf8.hpp"
#include "tools/page/board.hpp"
#include "tools/page/engine.hpp"
#include "tools/page/page_words.hpp"
#include "tools/page/results_file.hpp"
#include "tools/page/sweep_data.hpp"

namespace tuft::page {
namespace {

using Json = nlohmann::ordered_json;

struct Filling {
  const char* mark;
  std::string content;
};

// The page with its marks replaced, in the order in which they stand there. What was filled in is not
// searched again: a mark in a person's text is text.
std::string filled(const std::string& page, const std::vector<Filling>& fillings) {
  std::string out;
  std::size_t from = 0;
  for (const Filling& filling : fillings) {
    const std::size_t at = page.find(filling.mark, from);
    if (at == std::string::npos) throw std::logic_error(std::string("page.html lacks ") + filling.mark);
    out += page.substr(from, at - from) + filling.content;
    from = at + std::string(filling.mark).size();
  }
  return out + page.substr(from);
}

// Widths of the drawings made here [px]: a phone shrinks the one a little, and moves over the other.
constexpr double kStandingWidth = 460.0, kSidesWidth = 1000.0;

// The drawings made with a page. Most lines of one stand in others too, so each line is kept once: a drawing
// is a list of pairs, the first line of a stretch and how many follow each other there.
class Drawings {
 public:
  void add(const std::string& key, const std::string& svg) {
    Json stretches = Json::array();
    std::istringstream lines(svg);
    for (std::string line; std::getline(lines, line);) {
      const auto [found, is_new] = places_.emplace(line, places_.size());
      if (is_new) text_ += line + "\n";
      const std::size_t size = stretches.size();
      if (size > 0 &&
          stretches[size - 2].get<std::size_t>() + stretches[size - 1].get<std::size_t>() == found->second) {
        stretches[size - 1] = stretches[size - 1].get<std::size_t>() + 1;
      } else {
        stretches.push_back(found->second);
        stretches.push_back(1);
      }
    }
    made_[key] = stretches;
  }

  /// All lines. Names are escaped in a drawing: nothing in it ends a script element.
  const std::string& text() const { return text_; }
  const Json& made() const { return made_; }

 private:
  std::map<std::string, std::size_t> places_;
  std::string text_;
  Json made_ = Json::object();
};

std::string key_of(const char* what, std::size_t number, const std::string& which) {
  return std::string(what) + " " + std::to_string(number) + " " + which;
}

void draw_conditions(const geometry::Case& content, const Json& conditions, Drawings& drawings) {
  for (std::size_t i = 0; i < conditions.size(); ++i) {
    const Json& condition = conditions[i];
    if (!condition["solved"].get<bool>()) continue;
    Json request = {{"view", "standing"},
                    {"condition", condition["name"]},
                    {"title", condition["name"]},
                    {"solution", condition},
                    {"width", kStandingWidth}};
    drawings.add(key_of("condition", i, "standing"), drawing(content, request));
    request["view"] = "sides";
    request["width"] = kSidesWidth;
    drawings.add(key_of("condition", i, "sides"), drawing(content, request));
  }
}

void draw_sweeps(const geometry::Case& content, const Json& sweeps, Drawings& drawings) {
  for (std::size_t k = 0; k < sweeps.size(); ++k) {
    const Json& sweep = sweeps[k];
    const Json& points = sweep.at("points");
    Json solved = Json::array();
    for (const Json& point : points)
      if (point.at("solved").get<bool>()) solved.push_back(point);
    const double largest = largest_flow(content, solved);
    const CarriedPoints carried = carried_points(points);
    for (std::size_t place = 0; place < carried.shown.size(); ++place) {
      const std::size_t i = carried.shown[place];
      if (!std::binary_search(carried.drawn.begin(), carried.drawn.end(), i)) continue;
      const Json request = {{"view", "standing"},        {"condition", sweep.at("condition")},
                            {"title", sweep.at("name")}, {"solution", points[i]},
                            {"axis", sweep.at("axis")},  {"largest_flow_m3_s", largest},
                            {"width", kStandingWidth}};
      drawings.add(key_of("sweep", k, std::to_string(place)), drawing(content, request));
    }
  }
}

void draw_signs(Drawings& drawings) {
  for (const figure::VentState& vent_state : figure::kVentStates) {
    figure::Svg svg(20.0, 20.0, figure::vent_state_words(vent_state), "", figure::Surroundings::page);
    figure::draw_mark(vent_state, {10.0, 10.0}, 9.5, svg);
    drawings.add(std::string("sign ") + figure::vent_state_word(vent_state), svg.document());
  }
}

void draw_photos(const geometry::Case& content, const Json& conditions,
                 const std::vector<ReportPhoto>& photos, Drawings& drawings) {
  for (std::size_t i = 0; i < conditions.size(); ++i) {
    if (!conditions[i]["solved"].get<bool>()) continue;
    for (std::size_t k = 0; k < photos.size(); ++k)
      drawings.add(key_of("photo", k, std::to_string(i)),
                   photo_overlay(content, conditions[i], photos[k].shown));
  }
}

Json photos_json(const std::vector<ReportPhoto>& photos) {
  Json list = Json::array();
  for (const ReportPhoto& photo : photos)
    list.push_back({{"name", photo.shown.name},
                    {"view", geometry::word_of(photo.shown.view)},
                    {"width", photo.width},
                    {"height", photo.height},
                    {"jpeg", photo.jpeg}});
  return list;
}

// What can be drawn of these results; else why there are signs alone.
std::string draw(const Json& results, const std::vector<ReportPhoto>& photos, Drawings& drawings) {
  draw_signs(drawings);
  if (!results.contains("model")) return "these results have no model";
  Drawings all = drawings;
  try {
    const geometry::Case content = io::case_of(results["model"]);
    draw_conditions(content, results["conditions"], all);
    draw_sweeps(content, results["sweeps"], all);
    draw_photos(content, results["conditions"], photos, all);
  } catch (const std::exception& error) {
    // Results may come from anybody. Tables and words need no model.
    return std::string("the model in these results can't be used: ") + error.what();
  }
  drawings = all;
  return "";
}

// Half the engine's size; every browser of this decade undoes it (DecompressionStream).
std::string deflated(const std::string& bytes) {
  uLongf size = compressBound(bytes.size());
  std::string result(size, '\0');
  if (compress2(reinterpret_cast<Bytef*>(result.data()), &size, reinterpret_cast<const Bytef*>(bytes.data()),
                bytes.size(), Z_BEST_COMPRESSION) != Z_OK)
    throw std::runtime_error("the page's engine could not be compressed");
  result.resize(size);
  return result;
}

bool is_script(const std::string& name) {
  return name.size() > 3 && name.compare(name.size() - 3, 3, ".js") == 0;
}

// Scripts as one, in their order: those that others stand on have low numbers.
std::string joined_scripts(const std::string& engine, const std::vector<std::string>& files) {
  std::string text = "'use strict';\n(() => {\n";
  if (!engine.empty()) text += "const SOLVER_BYTES = '" + figure::base64(deflated(engine)) + "';\n";
  for (const std::string& name : files) text += page_files().at(name) + "\n";
  return text + "})();\n";
}

std::string scripts(const std::string& engine) {
  std::vector<std::string> files;
  for (const auto& [name, bytes] : page_files())
    if (is_script(name) && name.find('/') == std::string::npos) files.push_back(name);
  return joined_scripts(engine, files);
}

// Those of the report that the drawing page stands on too, then its own.
std::string drawing_scripts(const std::string& engine) {
  std::vector<std::string> files = {"10-dom.js", "20-values.js", "50-engine.js"};
  for (const auto& [name, bytes] : page_files())
    if (is_script(name) && name.compare(0, 5, "draw/") == 0) files.push_back(name);
  return joined_scripts(engine, files);
}

// What a reader without scripts still gets: the answers.
std::string plain_answers(const Json& results, const std::vector<ClaimWords>& claims) {
  std::string text = "<h1>" + html_text(results["device"].value("name", "")) + "</h1>\n";
  for (const ClaimWords& claim : claims) text += "<p>" + html_text(claim.paragraph) + "</p>\n";
  return text + "<p>" + html_text(results.value("caution", "")) + "</p>\n";
}

bool starts_with_at(const std::string& text, std::size_t at, const char* part) {
  return text.compare(at, 3, part) == 0;
}

}  // namespace

std::string html_text(const std::string& text) {
  std::string result;
  for (const char letter : io::valid_utf8(text)) {
    const auto code = static_cast<unsigned char>(letter);
    if (const char* name = figure::entity(code)) {
      result += name;
    } else if ((code < 0x20 && letter != '\n' && letter != '\t') || code == 0x7f) {
      result += "\xef\xbf\xbd";
    } else {
      result += letter;
    }
  }
  return result;
}

std::string script_data(const std::string& json) {
  std::string result;
  result.reserve(json.size());
  for (std::size_t i = 0; i < json.size(); ++i) {
    if (json[i] == '<' || json[i] == '>' || json[i] == '&') {
      result += fmt::format("\\u{:04x}", json[i]);
    } else if (starts_with_at(json, i, "\xe2\x80\xa8") || starts_with_at(json, i, "\xe2\x80\xa9")) {
      result += json[i + 2] == '\xa8' ? "\\u2028" : "\\u2029";
      i += 2;
    } else {
      result += json[i];
    }
  }
  return result;
}

namespace {

std::string page_of(const Json& results, const std::string& engine, const std::vector<ReportPhoto>& photos) {
  Drawings drawings;
  const std::string fault = draw(results, photos, drawings);
  // Which files lay beside the results is not the page's business; without it the page of a case is that of
  // its results.
  Json shown = results;
  shown.erase("files");
  for (Json& sweep : shown["sweeps"]) sweep = carried_sweep(sweep, carried_points(sweep.at("points")));
  const Json data = {{"results", shown},
                     {"words", page_words(results)},
                     {"drawings", drawings.made()},
                     {"photos", fault.empty() ? photos_json(photos) : Json::array()},
                     {"not_drawn", fault}};
  return filled(page_files().at("page.html"),
                {{"<!--title-->", html_text(results["device"].value("name", ""))},
                 {"/*style*/", figure::page_rules() + page_files().at("style.css")},
                 {"<!--answers-->", plain_answers(results, claim_words(results))},
                 {"/*drawings*/", drawings.text()},
                 {"/*data*/", script_data(data.dump(-1, ' ', false, Json::error_handler_t::replace))},
                 {"/*script*/", scripts(fault.empty() ? engine : "")}});
}

}  // namespace

std::string report_page(const std::string& results_text, const std::string& engine,
                        const std::vector<ReportPhoto>& photos) {
  const Json results = read_results(results_text);
  try {
    return page_of(results, engine, photos);
  } catch (const Json::exception& error) {
    // What the keys hold is looked at where it is used.
    throw ResultsError(std::string("something in it is not what tuft predict writes (") + error.what() +
                       "); run tuft predict anew with this version");
  }
}

std::string drawing_page(const DrawnCase& drawn, const std::string& engine) {
  Json photos = Json::array();
  for (const DrawnPhoto& photo : drawn.photos)
    photos.push_back({{"file", photo.file}, {"bytes", figure::base64(photo.bytes)}});
  Json roles = Json::object();
  for (const figure::VentState& state : figure::kVentStates)
    roles[figure::vent_state_word(state)] = figure::vent_state_words(state);
  const Json data = {{"name", drawn.name},
                     {"text", drawn.text},
                     {"save", drawn.save_place.empty() ? Json(nullptr) : Json(drawn.save_place)},
                     {"photos", photos},
                     {"units", units_for_page()},
                     {"generic", Json::parse(casefile::generic_things_json())},
                     {"words", {{"roles", roles}}}};
  return filled(
      page_files().at("draw/draw.html"),
      {{"/*connect*/", drawn.save_place.empty() ? "'none'" : "'self'"},
       {"<!--title-->", html_text(drawn.name)},
       {"/*style*/", figure::page_rules() + page_files().at("style.css") + page_files().at("draw/draw.css")},
       {"/*data*/", script_data(data.dump(-1, ' ', false, Json::error_handler_t::replace))},
       {"/*script*/", drawing_scripts(engine)}});
}

PageEngine find_page_engine(const std::filesystem::path& program, const char* name) {
  PageEngine engine;
  engine.file = (program.parent_path() / "../share/tuft" / name).lexically_normal();
  std::ifstream stream(engine.file, std::ios::binary);
  if (program.empty() || !stream) {
    engine.fault = "is not there";
    return engine;
  }
  engine.bytes.assign(std::istreambuf_iterator<char>(stream), {});
  if (stream.bad() || engine.bytes.compare(0, 4, std::string("\0asm", 4)) != 0) {
    engine.fault = "can't be read as WebAssembly";
  } else if (engine.bytes.find(mark()) == std::string::npos) {
    engine.fault = "was made from other sources than this program";
  }
  if (!engine.fault.empty()) engine.bytes.clear();
  return engine;
}

std::string page_engine_advice() {
  return "install emscripten, then in the source tree: tools/run report CASE, or "
         "cmake --build build --target page_engine";
}

}  // namespace tuft::page
