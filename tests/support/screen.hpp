// A real window on a virtual screen, driven by real key presses and mouse clicks.
#pragma once

#include <array>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace standproud::testing {

/// An X server of its own, without a monitor. Ends with the object.
class VirtualScreen {
  public:
    VirtualScreen(int width, int height, const std::vector<std::string>& more = {});
    ~VirtualScreen();
    VirtualScreen(const VirtualScreen&) = delete;
    VirtualScreen& operator=(const VirtualScreen&) = delete;
    [[nodiscard]] const std::string& display() const { return display_; }

  private:
    int process_ = -1;
    std::string display_;
};

/// What a program did.
struct Outcome {
    int status = -1;
    std::string output;  ///< standard output and error
};

/// Runs a program to its end. `environment` as NAME=value; NAME alone takes it away.
Outcome run_program(const std::vector<std::string>& words, const std::vector<std::string>& environment);

/// `standproud view` on a screen. Every wait has an end, after which it throws with what was on screen.
class DrivenWindow {
  public:
    /// No job: the start screen. `more` words for the command line. Settings and the home folder are in `folder`.
    DrivenWindow(const VirtualScreen& screen, const std::filesystem::path& job, const std::filesystem::path& folder,
                 const std::string& size = "1280x800", const std::vector<std::string>& more = {});
    ~DrivenWindow();
    DrivenWindow(const DrivenWindow&) = delete;
    DrivenWindow& operator=(const DrivenWindow&) = delete;

    void click(const std::string& place);
    void key(const std::string& keys);  ///< as xdotool says it: ctrl+s
    void type(const std::string& text);
    void drag_in_view(double from_x, double from_y, double to_x, double to_y);  ///< shares of the view, 0 to 1
    void drag_from(const std::string& place, int by_x, int by_y);               ///< pixels
    void resize(int width, int height);
    /// Left, top, right, bottom, once it is there and everything rests.
    [[nodiscard]] std::array<double, 4> box(const std::string& place);
    void wait_for(const std::string& place);
    void wait_idle() { settle(); }
    void wait_message(const std::string& part);
    [[nodiscard]] bool has(const std::string& place);
    /// Left, top, right, bottom, of everything whose name begins so.
    [[nodiscard]] std::map<std::string, std::array<double, 4>> places(const std::string& begin);
    [[nodiscard]] std::string message();
    /// Exit status once it has ended by itself.
    int wait_end();
    void kill();
    /// Seconds of processor used so far.
    [[nodiscard]] double processor_time() const;

  private:
    struct Seen {
        int frame = 0;
        bool work = true;  ///< something goes on beside the window
        std::map<std::string, std::array<double, 4>> places;
        std::string message;
    };
    Seen look();
    void tool(std::vector<std::string> words);
    void settle();
    [[nodiscard]] bool runs() const;
    template <class Condition>
    void wait_until(const std::string& what, Condition condition);

    std::string display_;
    std::filesystem::path places_;
    int process_ = -1;
    int status_ = -1;
};

}  // namespace standproud::testing
