#include "viewer/snapshot.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <Aspect_DisplayConnection.hxx>
#include <Image_AlienPixMap.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Standard_Failure.hxx>
#include <Xw_Window.hxx>
#include <algorithm>

#include "modeler/files.hpp"
#include "scene/picture.hpp"
#include "scene/scene.hpp"
#include "scene/screen.hpp"

namespace standproud::viewer {

void write_picture(const Handle(V3d_View) & view, int width, int height, const std::filesystem::path& path) {
    Image_AlienPixMap image;
    V3d_ImageDumpOptions how;
    how.Width = width;
    how.Height = height;
    how.BufferType = Graphic3d_BT_RGB;
    how.ToAdjustAspect = true;
    image.SetFormat(Image_Format_BGR);
    if (!view->ToPixMap(image, how)) throw FileError(fmt::format("cannot draw a picture of {} x {}", width, height));
    // The kernel writes straight to the file's name: through a name beside it, so that the picture is whole or not
    // there.
    const std::string beside = fmt::format("{}.{}.png", path.string(), ::getpid());
    if (!image.Save(beside.c_str())) {
        std::error_code ignored;
        std::filesystem::remove(beside, ignored);
        throw FileError(fmt::format("cannot write {}", path.string()));
    }
    std::error_code error;
    std::filesystem::rename(beside, path, error);
    if (error) {
        std::error_code ignored;
        std::filesystem::remove(beside, ignored);
        throw FileError(fmt::format("cannot write {}: {}", path.string(), error.message()));
    }
}

namespace {

Pose pose_for(const Document& document, const Snapshot& options, const Look& look) {
    const Model& model = document.job->model;
    if (options.finding) return near_finding(document, document.job->findings.at(*options.finding), look);
    if (!options.wall.empty()) return facing_wall(model, wall_index(model.job, options.wall));
    return overview(document, look);
}

}  // namespace

void write_snapshot(Document document, const Snapshot& options, const std::filesystem::path& path) {
    Message::DefaultMessenger()->ChangePrinters().Clear();  // the kernel's remarks are not for our users
    const Handle(Aspect_DisplayConnection) display = open_display();
    const Handle(OpenGl_GraphicDriver) driver = open_driver(display);
    try {
        const Stage stage = make_stage(driver);
        const Handle(V3d_View)& view = stage.view;
        Handle(Xw_Window) window = new Xw_Window(display, "standproud", 0, 0, options.width, options.height);
        window->SetVirtual(true);
        view->SetWindow(window);
        if (options.finding) choose_finding(document, *options.finding);
        Progress progress;
        const SolidStore store = make_missing(document.parts, {}, progress);
        Look look;
        look.dark = options.dark;
        if (const std::string fault = read_look(options.look, document, look); !fault.empty()) throw FileError(fault);
        look.scale = std::max(0.75, options.height / 800.0);  // smaller letters could not be read
        Scene scene(view);
        set_pose(view, pose_for(document, options, look), static_cast<double>(options.width) / options.height);
        scene.show(document, store, look);
        write_picture(view, options.width, options.height, path);
    } catch (const Standard_Failure& failure) {
        throw FileError(fmt::format("cannot draw {}: {}", path.string(), failure.GetMessageString()));
    }
}

}  // namespace standproud::viewer
