// One self-contained HTML page from a results file.
#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <vector>

#include "tools/page/report_photo.hpp"

namespace tuft::page {

/// What stands near the top of every page, and in no other file.
constexpr const char* kPageMark = "<meta name=\"generator\" content=\"tuft\">";

/// The page: results (all but their list of files), words, drawings, style and scripts in one document that
/// needs no network and no other file, and forbids itself both. `engine`: bytes of the solver that turns and
/// draws the device in the page. Where it does not run, and in a page without it (empty),
/// there are the drawings made here, and the angles that were solved beforehand. The same results and engine
/// give the same bytes. `photos`: of the case, each shown in every condition with what the vents do there.
/// Throws ResultsError.
std::string report_page(const std::string& results_text, const std::string& engine,
                        const std::vector<ReportPhoto>& photos = {});

/// A photo that a case names, as it lies beside it.
struct DrawnPhoto {
  std::string file;   ///< as the case names it
  std::string bytes;  ///< PNG or JPEG
};

/// A case to be drawn.
struct DrawnCase {
  std::string name;  ///< of its file, without folders
  std::string text;  ///< of the file
  std::vector<DrawnPhoto> photos;
  std::string
      save_place;  ///< where on this server the page posts what it saves, "/draw/KEY/"; empty: nowhere
};

/// The drawing page: the case, its photos, and all that reads, solves and shows it in one document that asks
/// the network for nothing; where it may save, it posts to its own server alone. `engine`: bytes of
/// drawing-engine.wasm, which it can't do without. The same case gives the same bytes.
std::string drawing_page(const DrawnCase& drawn, const std::string& engine);

/// Foreign text for between tags or within a quoted attribute: & < > " ' become entities; control characters
/// that HTML forbids, and bytes that are no UTF-8, become U+FFFD. Scripts of the page put text in as text,
/// never as markup.
std::string html_text(const std::string& text);

/// JSON for within a script element: what could end the element or the line of a script (< > & U+2028 U+2029)
/// becomes an escape of JSON, which leaves its meaning as it is. @pre valid JSON in UTF-8
std::string script_data(const std::string& json);

/// Bytes of each file in tools/page/web by its name, page.html, style.css, and the scripts; and of those in
/// tools/page/draw as draw/NAME.
const std::map<std::string, std::string>& page_files();

/// The engine, or why there is none.
struct PageEngine {
  std::filesystem::path file;  ///< where it is, or would have to be
  std::string bytes;           ///< WebAssembly; empty: none that could be used
  std::string fault;           ///< what is wrong with the file, as in "is not there"; empty: nothing
};

/// Looks for an engine of the program that lies at `program`: PREFIX/share/tuft/NAME for PREFIX/bin/tuft,
/// installed or in a build tree. One made from other sources than the program is not used, for page and
/// program would disagree.
PageEngine find_page_engine(const std::filesystem::path& program, const char* name = "page-engine.wasm");

/// How to get an engine, in words that stand after a colon.
std::string page_engine_advice();

}  // namespace tuft::page
