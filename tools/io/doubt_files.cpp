// CSV, figures and folders of a study and of what was learned.

#include <algorithm>

#include "tools/figure/bar_chart.hpp"
#include "tools/io/csv.hpp"
#include "tools/io/doubt.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

constexpr int kFigureWidth = 1600;     // of the PNG [px]
constexpr std::size_t kMostBars = 12;  // of a figure; the table holds all

const std::string& id_of(const Run& run, int claim) { return at(run.content.claims, claim).id; }

std::string claims_csv(const Run& run, const Doubt& doubt) {
  std::string text = csv_line({"claim", "verdict", "probability [-]", "standard error [-]", "low [-]",
                               "high [-]", "settled", "median", "5 %", "95 %", "unsolved [-]"});
  for (const auto& belief : doubt.claims) {
    // Where no sample has a solution there are no numbers.
    const auto number = [&](double value) {
      return belief.unsolved < 1.0 ? csv_number(value) : std::string();
    };
    text += csv_line({id_of(run, belief.claim), verdict_word(verdict_of(belief)),
                      number(belief.probability.value), number(belief.probability.standard_error),
                      number(belief.probability.interval.low), number(belief.probability.interval.high),
                      csv_yes_no(belief.settled), number(belief.median), number(belief.interval.low),
                      number(belief.interval.high), csv_number(belief.unsolved)});
  }
  return text;
}

std::string hangs_on_csv(const Run& run, const Doubt& doubt) {
  std::string text = csv_line({"claim", "inputs", "first [-]", "first low [-]", "first high [-]", "total [-]",
                               "total low [-]", "total high [-]"});
  for (const auto& claim : doubt.hangs_on.claims) {
    for (const auto& influence : claim.influences) {
      const uncertainty::Index& index = influence.index;
      text += csv_line({id_of(run, claim.claim), influence_name(doubt.inputs, influence),
                        csv_number(index.first), csv_number(index.first_interval.low),
                        csv_number(index.first_interval.high), csv_number(index.total),
                        csv_number(index.total_interval.low), csv_number(index.total_interval.high)});
    }
  }
  return text;
}

std::string measure_csv(const Run& run, const Doubt& doubt) {
  std::vector<std::string> header = {"measurement", "drop [bit]"};
  for (const int claim : doubt.questions.claims) header.push_back(id_of(run, claim) + " [bit]");
  header.push_back("how");
  std::string text = csv_line(header);
  for (const auto& suggestion : doubt.suggestions) {
    std::vector<std::string> row = {measurement_words(run.content, doubt.inputs, suggestion.measurement),
                                    csv_number(suggestion.total)};
    for (const double drop : suggestion.drop) row.push_back(csv_number(drop));
    row.push_back(how_to(suggestion.measurement));
    text += csv_line(row);
  }
  return text;
}

// Bars of what one claim hangs on, as SVG.
std::string hangs_on_chart(const Run& run, const Doubt& doubt, const experiment::HangsOn& claim) {
  const geometry::Claim& stated = at(run.content.claims, claim.claim);
  figure::BarChart chart;
  chart.title = "What \"" + stated.say + "\" depends on";
  chart.subtitle = "Share of the doubt that would stay if all else were known (total Sobol' index)";
  chart.quantity = "Total index";
  chart.unit = "%";
  chart.interval = "95 % interval";
  chart.signs = false;  // shares of a doubt: all the same way
  chart.note = "tuft " + run.version + ", " + run.case_file + ". A prediction, no safety assessment.";
  for (std::size_t i = 0; i < std::min(kMostBars, claim.influences.size()); ++i) {
    const experiment::Influence& influence = claim.influences[i];
    figure::Bar bar;
    bar.name = influence_name(doubt.inputs, influence);
    // An index is a share: what an estimate says beyond 0 to 100 % is the noise of the sample.
    const auto percent = [](double share) { return 100.0 * std::clamp(share, 0.0, 1.0); };
    bar.value = percent(influence.index.total);
    bar.low = percent(influence.index.total_interval.low);
    bar.high = percent(influence.index.total_interval.high);
    bar.has_interval = true;
    chart.bars.push_back(std::move(bar));
  }
  return figure::bar_chart(chart);
}

}  // namespace

std::vector<std::string> write_study(const Run& run, const Doubt& doubt, const std::filesystem::path& place) {
  ResultsFolder folder(place);
  folder.write("claims-doubt.csv", claims_csv(run, doubt));
  folder.write("hangs-on.csv", hangs_on_csv(run, doubt));
  folder.write("measure-next.csv", measure_csv(run, doubt));
  std::vector<std::string> ids;
  for (const auto& claim : doubt.hangs_on.claims) ids.push_back(id_of(run, claim.claim));
  const std::vector<std::string> names = file_names_of(ids);
  for (std::size_t i = 0; i < doubt.hangs_on.claims.size(); ++i) {
    const experiment::HangsOn& claim = doubt.hangs_on.claims[i];
    if (claim.varies)
      folder.draw("figures/hangs-on-" + names[i], hangs_on_chart(run, doubt, claim), kFigureWidth);
  }
  folder.write("results.json", study_json(run, doubt, folder.files()));
  folder.publish();
  return folder.files();
}

std::vector<std::string> write_learned(const Run& run, const experiment::Learned& learned,
                                       const LearnWords& words, const std::string& learned_case,
                                       const std::filesystem::path& place) {
  ResultsFolder folder(place);
  if (!learned_case.empty()) folder.write("learned.yaml", learned_case);
  folder.write("results.json", learned_json(run, learned, words, folder.files()));
  folder.publish();
  return folder.files();
}

}  // namespace tuft::io
