// The word somebody probably meant.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "geometry/device/lists.hpp"

namespace tuft::casefile {

/// Number of single-character insertions, deletions, replacements and swaps of neighbours that turn one word
/// into the other (optimal string alignment distance). Letter case, and '-' against '_' or ' ', count
/// nothing.
int edit_distance(std::string_view a, std::string_view b);

/// The known word nearest to `word`, or empty when none is near: at most one edit for each three characters,
/// begun ones included. The first of equals wins.
std::string nearest_word(std::string_view word, const std::vector<std::string>& known);

/// "did you mean 'hole'?", or empty when no known word is near.
std::string did_you_mean(std::string_view word, const std::vector<std::string>& known);

/// The one of ours that people call so ("bottom": base), of those known; empty: none.
std::string our_word_for(const std::string& word, const std::vector<std::string>& known);

/// What to write instead of a word: the one of ours that people call so ("bottom" is the base), or else
/// `did_you_mean`. May be empty.
std::string hint_for(const std::string& word, const std::vector<std::string>& known);

/// Whether a word is one of those known.
using geometry::contains;

/// "a, b, c"; long lists are cut with the number left out.
std::string listed(const std::vector<std::string>& words);

}  // namespace tuft::casefile
