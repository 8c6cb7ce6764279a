// Where results go, what they answer, and what their folder holds.
#pragma once

#include <filesystem>
#include <string>
#include <utility>
#include <vector>

namespace tuft::io {

/// What the results in a folder answer.
struct Asked {
  std::string command;                  ///< "predict"
  std::vector<std::string> conditions;  ///< that the person named; empty: what the command takes without
  std::vector<std::string> with;        ///< what else was asked for, in words: "a cross-section"
};

/// Where results are to go.
struct ResultsPlace {
  ResultsPlace(std::filesystem::path folder, Asked what = {}, bool replace = false)
      : path(std::move(folder)), asked(std::move(what)), fresh(replace) {}

  std::filesystem::path path;
  Asked asked;
  bool fresh;  ///< an earlier results folder there goes, whatever was asked then, with all of its files
};

/// What a results folder holds, as its results.json tells it.
struct Contents {
  Asked asked;
  std::vector<std::string> files;    ///< of this run; those still to be written first
  std::vector<std::string> earlier;  ///< of earlier runs that were asked for no more than this one
};

}  // namespace tuft::io
