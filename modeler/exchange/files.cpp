#include "modeler/files.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <poll.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstring>

namespace standproud {

namespace {

namespace fs = std::filesystem;

[[noreturn]] void refuse(const char* what, const fs::path& path, int reason) {
    throw FileError(fmt::format("cannot {} {}: {}", what, path.string(), std::strerror(reason)));
}

/// A pipe would keep us waiting, and a device would be replaced by a file or end never.
void must_be_file(const char* what, const fs::path& path, mode_t mode) {
    if (S_ISREG(mode)) return;
    if (S_ISDIR(mode)) refuse(what, path, EISDIR);
    const char* kind = S_ISFIFO(mode) ? "a pipe" : S_ISSOCK(mode) ? "a socket" : "a device";
    throw FileError(fmt::format("cannot {} {}: it is {}, not a file", what, path.string(), kind));
}

/// What a rename has to replace so that a link stays a link.
struct Target {
    fs::path file;
    mode_t mode = 0644;
};

Target target_of(const fs::path& path) {
    Target target{path};
    struct stat is {};
    if (::stat(path.c_str(), &is) == 0) {
        must_be_file("write", path, is.st_mode);
        target.mode = is.st_mode & 07777;
    } else if (errno != ENOENT) {
        refuse("write", path, errno);
    }
    // Step by step, as a link may lead to a file that is still to be made.
    std::error_code error;
    for (int links = 0; fs::is_symlink(fs::symlink_status(target.file, error)); ++links) {
        const fs::path next = fs::read_symlink(target.file, error);
        if (error || links == 40) refuse("write", path, error ? error.value() : ELOOP);
        target.file = target.file.parent_path() / next;
    }
    return target;
}

/// Files on their way: what has not been moved to its place by the end is taken away.
class OnTheWay {
  public:
    OnTheWay() = default;
    OnTheWay(const OnTheWay&) = delete;
    OnTheWay& operator=(const OnTheWay&) = delete;
    ~OnTheWay() {
        for (const auto& [from, to] : moves_) ::unlink(from.c_str());
    }

    /// Written down to the disk, in the folder `at`. Faults name `path`, which is what was asked for.
    void write(const fs::path& path, const Target& target, const fs::path& at, std::string_view bytes) {
        std::string name = (at / (target.file.filename().string() + ".XXXXXX")).string();
        const int file = ::mkstemp(name.data());
        if (file < 0) refuse("write", path, errno);
        moves_.emplace_back(name, target.file);
        const bool good = write_all(file, bytes) && ::fsync(file) == 0 && ::fchmod(file, target.mode) == 0;
        const int reason = errno;
        if (::close(file) != 0 || !good) refuse("write", path, good ? errno : reason);
    }

    void move() {
        for (const auto& [from, to] : moves_) {
            if (::rename(from.c_str(), to.c_str()) != 0) refuse("write", to, errno);
        }
        moves_.clear();
    }

  private:
    std::vector<std::pair<fs::path, fs::path>> moves_;
};

}  // namespace

bool write_all(int file, std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t written = ::write(file, bytes.data(), bytes.size());
        if (written < 0 && errno == EINTR) continue;
        if (written < 0 && (errno == EAGAIN || errno == EWOULDBLOCK)) {
            pollfd room{file, POLLOUT, 0};  // a reader that is slow, behind a pipe that does not wait for it
            if (::poll(&room, 1, -1) < 0 && errno != EINTR) return false;
            continue;
        }
        if (written < 0) return false;
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
    return true;
}

void write_whole(const fs::path& path, std::string_view bytes) {
    const Target target = target_of(path);
    OnTheWay file;
    file.write(path, target, target.file.parent_path(), bytes);
    file.move();
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

void write_together(const fs::path& folder, const FileSet& files) {
    make_folder(folder);
    const Aside aside(folder);
    OnTheWay all;
    for (const auto& [name, bytes] : files) {
        // What can be known to stand in the way is found before anything is moved.
        const fs::path path = folder / name;
        const Target target = target_of(path);
        const bool linked = target.file != path;  // to another disk perhaps, where nothing can be moved to
        const fs::path at = linked ? target.file.parent_path() : (aside.path() / name).parent_path();
        if (!linked) make_folder(at);
        all.write(path, target, at, bytes);
    }
    for (const auto& [name, bytes] : files) make_folder((folder / name).parent_path());
    all.move();
}

namespace {

std::string read_all(int file, const fs::path& path) {
    struct stat is {};
    if (::fstat(file, &is) != 0) refuse("read", path, errno);
    must_be_file("read", path, is.st_mode);
    std::string bytes;
    std::array<char, 1 << 16> buffer{};
    while (true) {
        const ssize_t got = ::read(file, buffer.data(), buffer.size());
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) refuse("read", path, errno);
        if (got == 0) return bytes;
        bytes.append(buffer.data(), static_cast<std::size_t>(got));
    }
}

}  // namespace

std::string read_whole(const fs::path& path) {
    // Looked at before it is opened: opening a pipe already lets go whoever waits at its other end.
    struct stat is {};
    if (::stat(path.c_str(), &is) != 0) refuse("read", path, errno);
    must_be_file("read", path, is.st_mode);
    const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    if (file < 0) refuse("read", path, errno);
    try {
        std::string bytes = read_all(file, path);
        ::close(file);
        return bytes;
    } catch (...) {
        ::close(file);
        throw;
    }
}

bool is_there(const fs::path& path) {
    struct stat is {};
    if (::stat(path.c_str(), &is) == 0) return true;
    if (errno == ENOENT || errno == ENOTDIR) return false;
    refuse("read", path, errno);
}

}  // namespace standproud
