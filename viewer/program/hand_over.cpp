// The commands that need the kernel are run by the program beside this one, so that all others start without it.
#include <fmt/format.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <filesystem>

#include "modeler/files.hpp"
#include "program/commands.hpp"

namespace standproud::program {

namespace {

/// Does not come back unless that program cannot be started.
[[noreturn]] void hand_over() {
    const auto beside = std::filesystem::read_symlink("/proc/self/exe").parent_path() / "standproud-solids";
    execv(beside.c_str(), arguments);
    throw FileError(fmt::format("cannot start {}: {}; it is built and installed beside standproud", beside.string(),
                                std::strerror(errno)));
}

}  // namespace

int run_export(const ExportOptions& /*options*/) { hand_over(); }

int run_view(const ViewOptions& /*options*/) { hand_over(); }

}  // namespace standproud::program
