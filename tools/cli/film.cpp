#include "tools/cli/film.hpp"

#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <cstdlib>
#include <vector>

#include "geometry/casefile/nearest.hpp"
#include "tools/cli/console.hpp"

extern char** environ;  // NOLINT: POSIX's own name

namespace tuft::cli {
namespace {

std::vector<std::string> codec_of(const std::string& kind) {
  if (kind == "webm") return {"-c:v", "libvpx-vp9", "-crf", "24", "-b:v", "0", "-row-mt", "0"};
  return {"-c:v", "libx264", "-crf", "18", "-preset", "medium", "-movflags", "+faststart"};
}

// Runs a program without a shell, and gives its exit status; -1 where it did not end by itself.
int run_program(const std::string& file, const std::vector<std::string>& words) {
  std::vector<char*> arguments = {const_cast<char*>(file.c_str())};
  for (const std::string& word : words) arguments.push_back(const_cast<char*>(word.c_str()));
  arguments.push_back(nullptr);
  pid_t child = 0;
  if (posix_spawn(&child, file.c_str(), nullptr, nullptr, arguments.data(), environ) != 0) return -1;
  int status = 0;
  while (waitpid(child, &status, 0) < 0) {
    if (errno != EINTR) return -1;
  }
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

}  // namespace

std::filesystem::path program_on_path(const std::string& program) {
  const char* path = std::getenv("PATH");
  std::string rest = path == nullptr ? "" : path;
  while (!rest.empty()) {
    const std::size_t colon = rest.find(':');
    const std::string folder = rest.substr(0, colon), file = folder + "/" + program;
    if (!folder.empty() && access(file.c_str(), X_OK) == 0) return file;
    rest = colon == std::string::npos ? "" : rest.substr(colon + 1);
  }
  return {};
}

void require_film(const std::string& kind) {
  const std::vector<std::string> kinds = {"mp4", "webm"};
  if (!casefile::contains(kinds, kind))
    refuse_unknown("--video: there is no '" + kind + "'", casefile::did_you_mean(kind, kinds), kinds);
  if (program_on_path("ffmpeg").empty())
    refuse(
        "--video needs the program ffmpeg, which is not installed here (on Debian: apt install ffmpeg); "
        "without --video the "
        "pictures of the film are written");
}

void write_film(const std::string& kind, const std::filesystem::path& frames, int per_second,
                const std::filesystem::path& film) {
  std::vector<std::string> words = {"-nostdin",
                                    "-hide_banner",
                                    "-loglevel",
                                    "error",
                                    "-y",
                                    "-framerate",
                                    std::to_string(per_second),
                                    "-i",
                                    (frames / "%04d.png").string()};
  for (const std::string& word : codec_of(kind)) words.push_back(word);
  // Players want even sides and halved colour; one thread and no marks of time and version: the same bytes
  // every time.
  for (const char* word : {"-vf", "pad=ceil(iw/2)*2:ceil(ih/2)*2", "-pix_fmt", "yuv420p", "-threads", "1",
                           "-map_metadata", "-1", "-fflags", "+bitexact", "-flags:v", "+bitexact"})
    words.push_back(word);
  words.push_back(film.string());
  const int status = run_program(program_on_path("ffmpeg").string(), words);
  std::error_code ignored;
  if (status != 0 || !std::filesystem::exists(film, ignored))
    throw Failure(ExitStatus::output_not_written, "ffmpeg could not make the video (exit status " +
                                                      std::to_string(status) +
                                                      "); its own words stand above");
}

}  // namespace tuft::cli
