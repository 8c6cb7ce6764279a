#include "tools/page/file_watch.hpp"

#include <sys/inotify.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <stdexcept>

#include "tools/io/utf8.hpp"

namespace tuft::page {
namespace fs = std::filesystem;

namespace {

FileWatch::News meaning(std::uint32_t mask) {
  if ((mask & (IN_CLOSE_WRITE | IN_MOVED_TO)) != 0) return FileWatch::News::saved;
  if ((mask & (IN_DELETE | IN_MOVED_FROM)) != 0) return FileWatch::News::gone;
  return FileWatch::News::none;
}

}  // namespace

FileWatch::FileWatch(const fs::path& file) {
  // A link is followed: what is edited is the file behind it.
  std::error_code error;
  const fs::path real = fs::canonical(file, error);
  const fs::path whole = error ? fs::absolute(file) : real;
  name_ = whole.filename();
  notify_ = inotify_init1(IN_NONBLOCK | IN_CLOEXEC);
  const std::uint32_t wanted =
      IN_CLOSE_WRITE | IN_MOVED_TO | IN_MOVED_FROM | IN_DELETE | IN_DELETE_SELF | IN_MOVE_SELF | IN_ONLYDIR;
  if (notify_ >= 0 && inotify_add_watch(notify_, whole.parent_path().c_str(), wanted) >= 0) return;
  const std::string why = std::strerror(errno);
  if (notify_ >= 0) close(notify_);
  throw std::runtime_error("cannot watch " + io::printable(whole.parent_path().string()) + ": " + why);
}

FileWatch::~FileWatch() { close(notify_); }

FileWatch::News FileWatch::news() {
  News last = News::none;
  alignas(inotify_event) char buffer[16384];
  for (;;) {
    const ssize_t count = read(notify_, buffer, sizeof buffer);
    if (count < 0 && errno == EINTR) continue;
    if (count <= 0) return last;
    for (ssize_t at = 0; at < count;) {
      const auto* event = reinterpret_cast<const inotify_event*>(buffer + at);
      at += static_cast<ssize_t>(sizeof(inotify_event) + event->len);
      if ((event->mask & (IN_DELETE_SELF | IN_MOVE_SELF | IN_IGNORED | IN_UNMOUNT)) != 0) return News::lost;
      // Too much happened to tell what: look at the file again.
      if ((event->mask & IN_Q_OVERFLOW) != 0) last = News::saved;
      if (event->len == 0 || name_ != event->name) continue;
      const News now = meaning(event->mask);
      if (now != News::none) last = now;
    }
  }
}

}  // namespace tuft::page
