// Pictures of a film made into one video file, by the program ffmpeg where it is installed.
#pragma once

#include <filesystem>
#include <string>

namespace tuft::cli {

/// Where a shell would find a program; empty: nowhere.
std::filesystem::path program_on_path(const std::string& program);

/// Throws Failure (bad_input) for a kind other than mp4 and webm, or where ffmpeg is not to be found: better
/// said before a long computation than after it.
void require_film(const std::string& kind);

/// Makes a video of the pictures FRAMES/0000.png, 0001.png, ... at so many a second. mp4: H.264; webm: VP9.
/// The same pictures and the same ffmpeg give the same bytes. Throws Failure (output_not_written) where
/// ffmpeg fails.
void write_film(const std::string& kind, const std::filesystem::path& frames, int per_second,
                const std::filesystem::path& film);

}  // namespace tuft::cli
