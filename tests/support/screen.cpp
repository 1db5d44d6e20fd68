#include "support/screen.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <thread>

namespace standproud::testing {

namespace {

using Clock = std::chrono::steady_clock;
constexpr double patience = 90;  // s: this machine may be busy with other things

void pause(double seconds) { std::this_thread::sleep_for(std::chrono::duration<double>(seconds)); }

[[noreturn]] void become(const std::vector<std::string>& words, const std::vector<std::string>& environment) {
    // Under sanitizers, leaks are not looked for here: those of the OpenGL driver and of the picture library, unloaded
    // at exit, have no names that could be told from ours. The libraries below the window are looked through by their
    // tests.
    ::setenv("ASAN_OPTIONS", "detect_leaks=0", 1);
    for (const auto& setting : environment) {
        const std::size_t equals = setting.find('=');
        if (equals == setting.npos) {
            ::unsetenv(setting.c_str());
        } else {
            ::setenv(setting.substr(0, equals).c_str(), setting.substr(equals + 1).c_str(), 1);
        }
    }
    std::vector<char*> arguments;
    for (const auto& word : words) arguments.push_back(const_cast<char*>(word.c_str()));
    arguments.push_back(nullptr);
    ::execvp(arguments[0], arguments.data());
    ::_exit(127);
}

}  // namespace

VirtualScreen::VirtualScreen(int width, int height, const std::vector<std::string>& more) {
    int ends[2];
    if (::pipe(ends) != 0) throw std::runtime_error("no pipe");
    process_ = ::fork();
    if (process_ == 0) {
        ::close(ends[0]);
        const int quiet = ::open("/dev/null", O_WRONLY);
        ::dup2(quiet, STDERR_FILENO);
        std::vector<std::string> words{"Xvfb",      "-displayfd", std::to_string(ends[1]),
                                       "-screen",   "0",          fmt::format("{}x{}x24", width, height),
                                       "-nolisten", "tcp"};
        words.insert(words.end(), more.begin(), more.end());
        become(words, {});
    }
    ::close(ends[1]);
    std::string number;
    char c = 0;
    while (::read(ends[0], &c, 1) == 1 && c != '\n') number += c;
    ::close(ends[0]);
    if (number.empty()) throw std::runtime_error("Xvfb does not start");
    display_ = ":" + number;
}

VirtualScreen::~VirtualScreen() {
    ::kill(process_, SIGTERM);
    ::waitpid(process_, nullptr, 0);
}

Outcome run_program(const std::vector<std::string>& words, const std::vector<std::string>& environment) {
    int ends[2];
    if (::pipe(ends) != 0) throw std::runtime_error("no pipe");
    const pid_t process = ::fork();
    if (process == 0) {
        ::dup2(ends[1], STDOUT_FILENO);
        ::dup2(ends[1], STDERR_FILENO);
        ::close(ends[0]);
        become(words, environment);
    }
    ::close(ends[1]);
    Outcome outcome;
    char buffer[4096];
    for (ssize_t n = 0; (n = ::read(ends[0], buffer, sizeof buffer)) > 0;)
        outcome.output.append(buffer, static_cast<std::size_t>(n));
    ::close(ends[0]);
    int status = 0;
    ::waitpid(process, &status, 0);
    outcome.status = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    return outcome;
}

DrivenWindow::DrivenWindow(const VirtualScreen& screen, const std::filesystem::path& job,
                           const std::filesystem::path& folder, const std::string& size,
                           const std::vector<std::string>& more)
    : display_(screen.display()), places_(folder / "places") {
    std::filesystem::remove(places_);
    process_ = ::fork();
    if (process_ == 0) {
        std::vector<std::string> words{STANDPROUD_PROGRAM, "view"};
        if (!job.empty()) words.push_back(job.string());
        words.insert(words.end(), {"--places", places_.string()});
        if (!size.empty()) words.insert(words.end(), {"--size", size});
        words.insert(words.end(), more.begin(), more.end());
        become(words,
               {"DISPLAY=" + display_, "HOME=" + folder.string(), "XDG_CONFIG_HOME=" + (folder / "config").string()});
    }
    wait_until("the first picture", [this] { return look().frame > 0; });
}

DrivenWindow::~DrivenWindow() { kill(); }

void DrivenWindow::kill() {
    if (process_ < 0) return;
    ::kill(process_, SIGKILL);
    ::waitpid(process_, nullptr, 0);
    process_ = -1;
}

DrivenWindow::Seen DrivenWindow::look() {
    Seen seen;
    std::ifstream file(places_);
    for (std::string line; std::getline(file, line);) {
        std::istringstream words(line);
        std::string first;
        words >> first;
        if (first == "frame") {
            words >> seen.frame;
        } else if (first == "work") {
            words >> seen.work;
        } else if (first == "message") {
            seen.message = line.size() > 8 ? line.substr(8) : "";
        } else {
            std::array<double, 4> box{std::stod(first), 0, 0, 0};
            words >> box[1] >> box[2] >> box[3];
            std::string name;
            std::getline(words >> std::ws, name);
            seen.places[name] = box;
        }
    }
    return seen;
}

template <class Condition>
void DrivenWindow::wait_until(const std::string& what, Condition condition) {
    const auto begin = Clock::now();
    while (!condition()) {
        if (std::chrono::duration<double>(Clock::now() - begin).count() > patience) {
            std::string on_screen;
            for (const auto& [name, box] : look().places) on_screen += name + "; ";
            throw std::runtime_error(
                fmt::format("waited in vain for {}; message: {}; on screen: {}", what, look().message, on_screen));
        }
        pause(0.03);
    }
}

void DrivenWindow::tool(std::vector<std::string> words) {
    words.insert(words.begin(), "xdotool");
    const Outcome outcome = run_program(words, {"DISPLAY=" + display_});
    if (outcome.status != 0) throw std::runtime_error("xdotool: " + outcome.output);
}

/// Whether any of its threads runs or wants to.
bool DrivenWindow::runs() const {
    std::error_code gone;
    const std::filesystem::directory_iterator threads(fmt::format("/proc/{}/task", process_), gone);
    for (const auto& thread : threads) {
        std::ifstream file(thread.path() / "stat");
        std::string text;
        std::getline(file, text);
        const auto at = text.rfind(')');
        if (at != text.npos && at + 2 < text.size() && (text[at + 2] == 'R' || text[at + 2] == 'D')) return true;
    }
    return false;
}

/// Waits until the window has drawn what the last event did, has no work beside it, and sleeps. Time alone cannot
/// tell: on a busy machine a frame takes as long as it takes.
void DrivenWindow::settle() {
    const auto begin = Clock::now();
    int frame = -1;
    double used = -1;
    int quiet = 0;
    while (quiet < 6 && std::chrono::duration<double>(Clock::now() - begin).count() < patience) {
        pause(0.05);
        const Seen now = look();
        const double time = processor_time();
        const bool still = !now.work && now.frame == frame && time == used && !runs();
        quiet = still ? quiet + 1 : 0;
        frame = now.frame;
        used = time;
    }
}

void DrivenWindow::click(const std::string& place) {
    wait_for(place);
    settle();
    const auto box = look().places.at(place);
    tool({"mousemove", std::to_string(static_cast<int>((box[0] + box[2]) / 2)),
          std::to_string(static_cast<int>((box[1] + box[3]) / 2))});
    settle();
    tool({"click", "1"});
    settle();
}

void DrivenWindow::key(const std::string& keys) {
    tool({"key", keys});
    settle();
}

void DrivenWindow::type(const std::string& text) {
    tool({"type", "--delay", "40", "--", text});
    settle();
}

void DrivenWindow::drag_in_view(double from_x, double from_y, double to_x, double to_y) {
    const auto box = look().places.at("view");
    const auto move = [&](double x, double y) {
        tool({"mousemove", std::to_string(static_cast<int>(box[0] + x * (box[2] - box[0]))),
              std::to_string(static_cast<int>(box[1] + y * (box[3] - box[1])))});
        settle();
    };
    move(from_x, from_y);
    tool({"mousedown", "1"});
    settle();
    constexpr int steps = 4;
    for (int i = 1; i <= steps; ++i) {
        move(from_x + (to_x - from_x) * i / steps, from_y + (to_y - from_y) * i / steps);
    }
    tool({"mouseup", "1"});
    settle();
}

void DrivenWindow::drag_from(const std::string& place, int by_x, int by_y) {
    wait_for(place);
    settle();
    const auto box = look().places.at(place);
    const double x = (box[0] + box[2]) / 2;
    const double y = (box[1] + box[3]) / 2;
    const auto move = [&](double share) {
        tool({"mousemove", std::to_string(static_cast<int>(x + share * by_x)),
              std::to_string(static_cast<int>(y + share * by_y))});
        settle();
    };
    move(0);
    tool({"mousedown", "1"});
    settle();
    for (const double share : {0.25, 0.5, 0.75, 1.0}) move(share);
    tool({"mouseup", "1"});
    settle();
}

void DrivenWindow::resize(int width, int height) {
    tool({"search", "--name", "standproud", "windowsize", std::to_string(width), std::to_string(height)});
    settle();
}

std::array<double, 4> DrivenWindow::box(const std::string& place) {
    wait_for(place);
    settle();
    return look().places.at(place);
}

void DrivenWindow::wait_for(const std::string& place) {
    wait_until(fmt::format("\"{}\"", place), [&] { return has(place); });
}

bool DrivenWindow::has(const std::string& place) { return look().places.count(place) > 0; }

std::map<std::string, std::array<double, 4>> DrivenWindow::places(const std::string& begin) {
    std::map<std::string, std::array<double, 4>> found;
    for (const auto& [name, box] : look().places) {
        if (name.rfind(begin, 0) == 0) found[name] = box;
    }
    return found;
}

std::string DrivenWindow::message() { return look().message; }

void DrivenWindow::wait_message(const std::string& part) {
    wait_until(fmt::format("the message \"{}\"", part), [&] { return message().find(part) != std::string::npos; });
}

int DrivenWindow::wait_end() {
    wait_until("its end", [this] {
        int status = 0;
        if (::waitpid(process_, &status, WNOHANG) != process_) return false;
        status_ = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
        return true;
    });
    process_ = -1;
    return status_;
}

double DrivenWindow::processor_time() const {
    std::ifstream file(fmt::format("/proc/{}/stat", process_));
    std::string text;
    std::getline(file, text);
    // After the name in brackets: state, then 10 more, then user and system time in ticks.
    std::istringstream rest(text.substr(text.rfind(')') + 1));
    std::string word;
    for (int i = 0; i < 11; ++i) rest >> word;
    double user = 0;
    double system = 0;
    rest >> user >> system;
    return (user + system) / static_cast<double>(::sysconf(_SC_CLK_TCK));
}

}  // namespace standproud::testing
