#include "modeler/files.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <fstream>
#include <sstream>

namespace standproud {

namespace {

[[noreturn]] void refuse(const char* what, const std::filesystem::path& path, int reason) {
    throw FileError(fmt::format("cannot {} {}: {}", what, path.string(), std::strerror(reason)));
}

bool write_all(int file, std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t written = ::write(file, bytes.data(), bytes.size());
        if (written < 0 && errno == EINTR) continue;
        if (written < 0) return false;
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
    return true;
}

}  // namespace

void write_whole(const std::filesystem::path& path, std::string_view bytes) {
    std::string beside = path.string() + ".XXXXXX";
    const int file = ::mkstemp(beside.data());
    if (file < 0) refuse("write", path, errno);
    const bool good = write_all(file, bytes) && ::fsync(file) == 0 && ::fchmod(file, 0644) == 0;
    const int reason = errno;
    if (::close(file) != 0 || !good || ::rename(beside.c_str(), path.c_str()) != 0) {
        const int late = good ? errno : reason;
        ::unlink(beside.c_str());
        refuse("write", path, late);
    }
}

namespace {

void make_folder(const std::filesystem::path& path) {
    std::error_code error;
    std::filesystem::create_directories(path, error);
    if (error) throw FileError(fmt::format("cannot make folder {}: {}", path.string(), error.message()));
}

/// Gone with all that is in it, whatever happens.
class Aside {
  public:
    explicit Aside(const std::filesystem::path& folder) {
        std::string path = (folder / ".new-XXXXXX").string();
        if (::mkdtemp(path.data()) == nullptr) refuse("write into", folder, errno);
        path_ = path;
    }
    Aside(const Aside&) = delete;
    Aside& operator=(const Aside&) = delete;
    ~Aside() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    [[nodiscard]] const std::filesystem::path& path() const { return path_; }

  private:
    std::filesystem::path path_;
};

}  // namespace

void write_together(const std::filesystem::path& folder, const FileSet& files) {
    make_folder(folder);
    const Aside aside(folder);
    for (const auto& [name, bytes] : files) {
        make_folder((aside.path() / name).parent_path());
        write_whole(aside.path() / name, bytes);
    }
    // What can be known to stand in the way is found before anything is moved.
    for (const auto& [name, bytes] : files) {
        if (std::filesystem::is_directory(folder / name)) refuse("write", folder / name, EISDIR);
    }
    for (const auto& [name, bytes] : files) make_folder((folder / name).parent_path());
    for (const auto& [name, bytes] : files) {
        if (::rename((aside.path() / name).c_str(), (folder / name).c_str()) != 0)
            refuse("write", folder / name, errno);
    }
}

std::string read_whole(const std::filesystem::path& path) {
    std::ifstream stream(path, std::ios::binary);
    if (!stream) refuse("read", path, errno);
    std::ostringstream text;
    text << stream.rdbuf();
    if (stream.bad() || std::filesystem::is_directory(path)) refuse("read", path, EISDIR);
    return text.str();
}

}  // namespace standproud
