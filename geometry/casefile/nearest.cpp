#include "geometry/casefile/nearest.hpp"

#include <algorithm>
#include <cctype>
#include <map>

namespace tuft::casefile {
namespace {

constexpr std::size_t kLongestWord = 100;

std::string folded(std::string_view word) {
  std::string out(word.substr(0, kLongestWord));
  for (char& c : out) {
    c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    if (c == '_' || c == ' ') c = '-';
  }
  return out;
}

}  // namespace

// Words people use for ours, and earlier names of keys. The nearest word can't find them.
std::string our_word_for(const std::string& word, const std::vector<std::string>& known) {
  static const std::multimap<std::string, std::string> words = {{"takes-back", "recirculates"},
                                                                {"together", "correlations"},
                                                                {"seen-in", "evidence-from"},
                                                                {"follows", "speed-control"},
                                                                {"follows", "controlled"},
                                                                {"bottom", "base"},
                                                                {"underside", "base"},
                                                                {"back", "rear"},
                                                                {"lid", "hinge"},
                                                                {"in", "intake"},
                                                                {"inlet", "intake"},
                                                                {"out", "exhaust"},
                                                                {"outlet", "exhaust"},
                                                                {"both", "both-ways"},
                                                                {"none", "open"},
                                                                {"bed", "soft"},
                                                                {"table", "hard"},
                                                                {"radial", "blower"},
                                                                {"centrifugal", "blower"},
                                                                {"grille", "perforated"},
                                                                {"off", "stopped"},
                                                                {"max", "full"},
                                                                {"yes", "true"},
                                                                {"no", "false"},
                                                                {"on", "true"},
                                                                {"position", "centre"},
                                                                {"from", "draws-from"},
                                                                {"to", "blows-into"}};
  const auto [first, last] = words.equal_range(word);
  const auto it = std::find_if(first, last, [&](const auto& pair) { return contains(known, pair.second); });
  return it == last ? "" : it->second;
}

int edit_distance(std::string_view first, std::string_view second) {
  const std::string a = folded(first);
  const std::string b = folded(second);
  const std::size_t n = b.size();
  // Rows i-2, i-1 and i of the table of distances between the beginnings of the two words.
  std::vector<int> before(n + 1), last(n + 1), row(n + 1);
  for (std::size_t j = 0; j <= n; ++j) last[j] = static_cast<int>(j);
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = static_cast<int>(i);
    for (std::size_t j = 1; j <= n; ++j) {
      const int replaced = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      row[j] = std::min({replaced, last[j] + 1, row[j - 1] + 1});
      const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
      if (swapped) row[j] = std::min(row[j], before[j - 2] + 1);
    }
    before.swap(last);
    last.swap(row);
  }
  return last[n];
}

std::string nearest_word(std::string_view word, const std::vector<std::string>& known) {
  std::string best;
  int best_distance = static_cast<int>(std::min(word.size(), kLongestWord) + 2) / 3 + 1;
  for (const std::string& candidate : known) {
    const int distance = edit_distance(word, candidate);
    // A word of which nothing is left has not been misspelt.
    const bool alike = distance < static_cast<int>(std::min(word.size(), candidate.size()));
    if (alike && distance < best_distance) {
      best = candidate;
      best_distance = distance;
    }
  }
  return best;
}

std::string did_you_mean(std::string_view word, const std::vector<std::string>& known) {
  const std::string near = nearest_word(word, known);
  return near.empty() ? "" : "did you mean '" + near + "'?";
}

std::string hint_for(const std::string& word, const std::vector<std::string>& known) {
  const std::string ours = our_word_for(word, known);
  return ours.empty() ? did_you_mean(word, known) : "write '" + ours + "'";
}

std::string listed(const std::vector<std::string>& words) {
  constexpr std::size_t kMost = 24;
  std::string out;
  for (std::size_t i = 0; i < std::min(kMost, words.size()); ++i) out += (i == 0 ? "" : ", ") + words[i];
  if (words.size() > kMost) out += " and " + std::to_string(words.size() - kMost) + " more";
  return out;
}

}  // namespace tuft::casefile
