#include "program/output.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <cstring>

#include "modeler/clean_text.hpp"
#include "terminal/layout.hpp"

namespace standproud::program {

namespace {

std::string shown(std::string_view text, bool colour) {
    std::string out;
    out.reserve(text.size());
    while (!text.empty()) {
        const std::size_t words = std::min(text.find_first_of("\r\n\033"), text.size());
        out += clean_text(text.substr(0, words));
        text.remove_prefix(words);
        std::size_t kept = text.starts_with("\n") ? 1 : text.starts_with("\r\n") ? 2 : 0;
        if (kept == 0 && colour) kept = viewer::colour_code_length(text);
        out += text.substr(0, kept);
        text.remove_prefix(kept);
        if (kept == 0 && !text.empty()) {
            out += ' ';
            text.remove_prefix(1);
        }
    }
    return out;
}

}  // namespace

void set_up_output() {
    std::signal(SIGPIPE, SIG_IGN);
    // Open for reading: a write to it fails as it does to one that is closed.
    for (const int file : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) {
        if (::fcntl(file, F_GETFD) < 0) (void)::open("/dev/null", file == STDIN_FILENO ? O_WRONLY : O_RDONLY);
    }
}

bool wants_colour() {
    const char* no_colour = std::getenv("NO_COLOR");
    return ::isatty(STDOUT_FILENO) != 0 && !(no_colour && *no_colour);
}

void put(std::string_view text) {
    if (write_all(STDOUT_FILENO, shown(text, wants_colour()))) return;
    const int reason = errno;
    const std::string says = fmt::format("cannot write standard output: {}", std::strerror(reason));
    if (reason == EPIPE) throw ReaderGone(says);
    throw OutputLost(says);
}

void tell(std::string_view text) { (void)write_all(STDERR_FILENO, shown(text, false)); }

}  // namespace standproud::program
