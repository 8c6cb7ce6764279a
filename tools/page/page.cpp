#include "tools/page/page.hpp"

#include <stdexcept>

#include "tools/figure/png.hpp"
#include "tools/page/claim_words.hpp"
#include "tools/page/escape.hpp"
#include "tools/page/page_files.hpp"
#include "tools/page/results_file.hpp"

namespace tuft::report {
namespace {

using Json = nlohmann::ordered_json;

void fill_in(std::string& page, const std::string& mark, const std::string& content) {
  const std::size_t at = page.find(mark);
  if (at == std::string::npos) throw std::logic_error("page.html lacks " + mark);
  page.replace(at, mark.size(), content);
}

// Results of an earlier version have no model; the solver would have nothing to solve.
bool wants_solver(const Json& results) { return results.contains("model"); }

// All scripts as one, in the order of their names: those that others stand on have low numbers.
std::string scripts(const std::string& engine) {
  std::string text = "'use strict';\n(() => {\n";
  if (!engine.empty()) text += "const SOLVER_BYTES = '" + figure::base64(engine) + "';\n";
  for (const auto& [name, bytes] : page_files()) {
    if (name.size() > 3 && name.compare(name.size() - 3, 3, ".js") == 0) text += bytes + "\n";
  }
  return text + "})();\n";
}

// What a reader without scripts still gets: the answers.
std::string plain_answers(const Json& results, const std::vector<ClaimWords>& claims) {
  std::string text = "<h1>" + html_text(results["device"].value("name", "")) + "</h1>\n";
  for (const ClaimWords& claim : claims) text += "<p>" + html_text(claim.paragraph) + "</p>\n";
  return text + "<p>" + html_text(results.value("caution", "")) + "</p>\n";
}

Json words_json(const std::vector<ClaimWords>& claims) {
  Json list = Json::array();
  for (const ClaimWords& claim : claims)
    list.push_back(
        {{"id", claim.id}, {"verdict", claim.verdict}, {"sure", claim.sure}, {"paragraph", claim.paragraph}});
  return {{"claims", list}};
}

}  // namespace

std::string report_page(const std::string& results_text, const std::string& engine) {
  const Json results = read_results(results_text);
  const std::vector<ClaimWords> claims = claim_words(results);
  std::string page = page_files().at("page.html");
  fill_in(page, "<!--title-->", html_text(results["device"].value("name", "")));
  fill_in(page, "/*style*/", page_files().at("style.css"));
  fill_in(page, "<!--answers-->", plain_answers(results, claims));
  fill_in(page, "/*script*/", scripts(wants_solver(results) ? engine : ""));
  // Which files lay beside the results is not the page's business; without it the page of a case is that of
  // its results.
  Json shown = results;
  shown.erase("files");
  const Json data = {{"results", shown}, {"words", words_json(claims)}};
  fill_in(page, "/*data*/", script_data(data.dump(-1, ' ', false, Json::error_handler_t::replace)));
  return page;
}

}  // namespace tuft::report
