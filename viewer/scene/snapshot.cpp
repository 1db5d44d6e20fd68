#include "viewer/snapshot.hpp"

#include <cairo.h>
#include <fmt/format.h>

#include <Aspect_DisplayConnection.hxx>
#include <Image_PixMap.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Standard_Failure.hxx>
#include <Xw_Window.hxx>
#include <algorithm>
#include <cstdint>
#include <cstring>
#include <memory>

#include "modeler/files.hpp"
#include "scene/picture.hpp"
#include "scene/scene.hpp"
#include "scene/screen.hpp"

namespace standproud::viewer {

namespace {

struct DropSurface {
    void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
};

cairo_status_t append(void* bytes, const unsigned char* data, unsigned int length) {
    static_cast<std::string*>(bytes)->append(reinterpret_cast<const char*>(data), length);
    return CAIRO_STATUS_SUCCESS;
}

/// Made in memory: the kernel's own writer opens the file's name itself and does not say why it cannot.
std::string png_of(const Image_PixMap& image) {
    const int width = static_cast<int>(image.SizeX());
    const int height = static_cast<int>(image.SizeY());
    const std::unique_ptr<cairo_surface_t, DropSurface> surface(
        cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height));
    unsigned char* pixels = cairo_image_surface_get_data(surface.get());
    const int stride = cairo_image_surface_get_stride(surface.get());
    if (pixels == nullptr) throw FileError(fmt::format("cannot make a picture of {} x {}", width, height));
    for (int y = 0; y < height; ++y) {
        for (int x = 0; x < width; ++x) {
            const auto& from = image.Value<Image_ColorBGR>(y, x);
            const std::uint32_t to = static_cast<std::uint32_t>(from.r()) << 16 |
                                     static_cast<std::uint32_t>(from.g()) << 8 | static_cast<std::uint32_t>(from.b());
            std::memcpy(pixels + y * stride + 4 * x, &to, sizeof to);
        }
    }
    cairo_surface_mark_dirty(surface.get());
    std::string bytes;
    if (cairo_surface_write_to_png_stream(surface.get(), append, &bytes) != CAIRO_STATUS_SUCCESS)
        throw FileError(fmt::format("cannot make a picture of {} x {}", width, height));
    return bytes;
}

}  // namespace

void write_picture(const Handle(V3d_View) & view, int width, int height, const std::filesystem::path& path) {
    Image_PixMap image;
    V3d_ImageDumpOptions how;
    how.Width = width;
    how.Height = height;
    how.BufferType = Graphic3d_BT_RGB;
    how.ToAdjustAspect = true;
    const bool made =
        image.InitTrash(Image_Format_BGR, static_cast<Standard_Size>(width), static_cast<Standard_Size>(height)) &&
        view->ToPixMap(image, how) && image.Format() == Image_Format_BGR;
    if (!made) throw FileError(fmt::format("cannot draw a picture of {} x {}", width, height));
    write_whole(path, png_of(image));
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
