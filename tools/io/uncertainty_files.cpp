// CSV, figures and folders of a study and of what was learned.

#include <algorithm>

#include "tools/figure/bar_chart.hpp"
#include "tools/io/csv.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/uncertainty.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

constexpr int kFigureWidth = 1600;     // of the PNG [px]
constexpr std::size_t kMostBars = 12;  // of a figure; the table holds all

const std::string& id_of(const Run& run, int claim) { return at(run.content.claims, claim).id; }

std::string claims_csv(const Run& run, const Uncertainty& uncertainty) {
  std::string text =
      csv_line({"claim", "verdict", "probability [-]", "standard error [-]", "low [-]", "high [-]", "settled",
                "median", "5 %", "95 %", "unsolved [-]", "device share [-]", "room share [-]",
                "model share [-]", "model share error [-]"});
  for (const auto& probability : uncertainty.claims) {
    // Where no sample has a solution there are no numbers.
    const auto number = [&](double value) {
      return probability.unsolved < 1.0 ? csv_number(value) : std::string();
    };
    const experiment::UncertaintyShares* told = shares_of(uncertainty, probability.claim);
    const auto of = [&](study::InputKind kind) { return told->of[static_cast<std::size_t>(kind)]; };
    const auto share = [&](study::InputKind kind) {
      return told != nullptr ? csv_number(of(kind).first) : std::string();
    };
    text += csv_line(
        {id_of(run, probability.claim), verdict_word(verdict_of(probability)),
         number(probability.probability.value), number(probability.probability.standard_error),
         number(probability.probability.interval.low), number(probability.probability.interval.high),
         csv_yes_no(probability.settled), number(probability.median), number(probability.interval.low),
         number(probability.interval.high), csv_number(probability.unsolved), share(study::InputKind::device),
         share(study::InputKind::room), share(study::InputKind::model),
         told != nullptr ? csv_number(of(study::InputKind::model).error) : std::string()});
  }
  return text;
}

std::string sensitivity_csv(const Run& run, const Uncertainty& uncertainty) {
  std::string text = csv_line({"claim", "inputs", "first [-]", "first low [-]", "first high [-]", "total [-]",
                               "total low [-]", "total high [-]"});
  for (const auto& claim : uncertainty.sensitivity.claims) {
    for (const auto& influence : claim.influences) {
      const uncertainty::Index& index = influence.index;
      text += csv_line({id_of(run, claim.claim), influence_name(uncertainty.inputs, influence),
                        csv_number(index.first), csv_number(index.first_interval.low),
                        csv_number(index.first_interval.high), csv_number(index.total),
                        csv_number(index.total_interval.low), csv_number(index.total_interval.high)});
    }
  }
  return text;
}

std::string measure_csv(const Run& run, const Uncertainty& uncertainty) {
  std::vector<std::string> header = {"measurement", "drop [bit]"};
  for (const int claim : uncertainty.questions.claims) header.push_back(id_of(run, claim) + " [bit]");
  header.push_back("how");
  std::string text = csv_line(header);
  for (const auto& suggestion : uncertainty.suggestions) {
    std::vector<std::string> row = {
        measurement_words(run.content, uncertainty.inputs, suggestion.measurement),
        csv_number(suggestion.total)};
    for (const double gain : suggestion.gain) row.push_back(csv_number(gain));
    row.push_back(how_to(suggestion.measurement));
    text += csv_line(row);
  }
  return text;
}

// Bars of what one claim depends on, as SVG.
std::string sensitivity_chart(const Run& run, const Uncertainty& uncertainty,
                              const experiment::Sensitivity& claim) {
  const geometry::Claim& stated = at(run.content.claims, claim.claim);
  figure::BarChart chart;
  chart.title = "What \"" + stated.say + "\" depends on";
  chart.subtitle = "Share of the uncertainty that would stay if all else were known (total Sobol' index)";
  chart.quantity = "Total index";
  chart.unit = "%";
  chart.interval = "95 % interval";
  chart.signs = false;  // shares of an uncertainty: all the same way
  chart.note = "tuft " + run.version + ", " + run.case_file + ". A prediction, no safety assessment.";
  for (std::size_t i = 0; i < std::min(kMostBars, claim.influences.size()); ++i) {
    const experiment::Influence& influence = claim.influences[i];
    figure::Bar bar;
    bar.name = influence_name(uncertainty.inputs, influence);
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

std::vector<std::string> write_study(const Run& run, const Uncertainty& uncertainty,
                                     const ResultsPlace& place) {
  ResultsFolder folder(place);
  folder.write("claims-uncertainty.csv", claims_csv(run, uncertainty));
  folder.write("sensitivity.csv", sensitivity_csv(run, uncertainty));
  folder.write("measurements.csv", measure_csv(run, uncertainty));
  std::vector<std::string> ids;
  for (const auto& claim : uncertainty.sensitivity.claims) ids.push_back(id_of(run, claim.claim));
  const std::vector<std::string> names = file_names_of(ids);
  for (std::size_t i = 0; i < uncertainty.sensitivity.claims.size(); ++i) {
    const experiment::Sensitivity& claim = uncertainty.sensitivity.claims[i];
    if (claim.varies)
      folder.draw("figures/sensitivity-" + names[i], sensitivity_chart(run, uncertainty, claim),
                  kFigureWidth);
  }
  folder.write("results.json", study_json(run, uncertainty, folder.contents()));
  folder.publish();
  return folder.files();
}

std::vector<std::string> write_learned(const Run& run, const experiment::Learned& learned,
                                       const LearnWords& words, const std::string& learned_case,
                                       const ResultsPlace& place) {
  ResultsFolder folder(place);
  if (!learned_case.empty()) folder.write("learned.yaml", learned_case);
  folder.write("results.json", learned_json(run, learned, words, folder.contents()));
  folder.publish();
  return folder.files();
}

}  // namespace tuft::io
