#include <fmt/format.h>

#include <APIHeaderSection_MakeHeader.hxx>
#include <BRepGProp.hxx>
#include <GProp_GProps.hxx>
#include <Interface_HArray1OfHAsciiString.hxx>
#include <Interface_Static.hxx>
#include <Quantity_Color.hxx>
#include <STEPCAFControl_Writer.hxx>
#include <STEPControl_Controller.hxx>
#include <Standard_Failure.hxx>
#include <Standard_Version.hxx>
#include <StepData_Protocol.hxx>
#include <StepData_StepModel.hxx>
#include <StepData_StepWriter.hxx>
#include <TCollection_ExtendedString.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TDataStd_Name.hxx>
#include <TDocStd_Document.hxx>
#include <XCAFDoc_Area.hxx>
#include <XCAFDoc_Centroid.hxx>
#include <XCAFDoc_ColorTool.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_LayerTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>
#include <XCAFDoc_Volume.hxx>
#include <map>
#include <mutex>
#include <set>
#include <sstream>
#include <stdexcept>

#include "exchange/step_order.hpp"
#include "exchange/step_text.hpp"
#include "modeler/clean_text.hpp"
#include "modeler/exchange.hpp"
#include "modeler/files.hpp"
#include "modeler/kernel_clearance.hpp"
#include "modeler/solids.hpp"
#include "solids/quiet.hpp"

namespace standproud {

namespace {

/// The kernel's STEP translators keep their settings and counters in globals: two writers at once spoil each
/// other's files or abort.
std::mutex step_mutex;

TCollection_ExtendedString kernel_text(const std::string& text) { return {clean_text(text).c_str(), true}; }

Handle(TCollection_HAsciiString) raw_text(const std::string& text) {
    return new TCollection_HAsciiString(clean_text(text).c_str());
}

/// The document that the kernel's writer translates: an assembly tree with names, colours, layers.
class Tree {
  public:
    explicit Tree(const std::string& job_name) : document_(new TDocStd_Document("standproud")) {
        XCAFDoc_DocumentTool::Set(document_->Main(), false);
        XCAFDoc_DocumentTool::SetLengthUnit(document_, 1, UnitsMethods_LengthUnit_Millimeter);
        shapes_ = XCAFDoc_DocumentTool::ShapeTool(document_->Main());
        shapes_->SetAutoNaming(false);
        colours_ = XCAFDoc_DocumentTool::ColorTool(document_->Main());
        layers_ = XCAFDoc_DocumentTool::LayerTool(document_->Main());
        root_ = shapes_->NewShape();
        name(root_, {"job", job_name});
    }

    void add(const Part& part) { add(part, make_solid(part)); }

    void add(const Part& part, const TopoDS_Shape& solid) {
        if (!ids_.insert(part.id).second) {
            throw std::runtime_error(fmt::format("part {}: another part has the same id", part.id));
        }
        TDF_Label home = branch(root_, "job/" + part.trade, part.trade);
        std::string path = "job/" + part.trade;
        for (const auto& level : {part.wall, part.fitting}) {
            if (level.empty()) continue;
            path += "/" + level;
            home = branch(home, path, level);
        }
        const TDF_Label label = shapes_->AddShape(solid, false);
        const TDF_Label instance = shapes_->AddComponent(home, label, TopLoc_Location());
        const ProductName names{part.id, part.name.empty() ? part.id : part.name};
        name(label, names);
        name(instance, names);
        const Colour c = colour_of(part);
        // The kernel's colours are linear unless told: the table is in sRGB, as screens show it.
        colours_->SetColor(label, Quantity_Color(c.red / 255.0, c.green / 255.0, c.blue / 255.0, Quantity_TOC_sRGB),
                           XCAFDoc_ColorSurf);
        if (!part.layer.empty()) layers_->SetLayer(label, kernel_text(part.layer));
        add_measures(label, solid);
    }

    [[nodiscard]] const Handle(TDocStd_Document) & document() {
        shapes_->UpdateAssemblies();
        return document_;
    }
    /// What the keys stand for that the labels are named with until the file is written.
    [[nodiscard]] const std::vector<ProductName>& names() const { return names_; }

  private:
    void name(const TDF_Label& label, ProductName names) {
        TDataStd_Name::Set(label, kernel_text(product_key(names_.size())));
        names_.push_back({clean_text(names.id), clean_text(names.name)});
    }

    TDF_Label branch(const TDF_Label& parent, const std::string& path, const std::string& title) {
        const auto found = branches_.find(path);
        if (found != branches_.end()) return found->second;
        const TDF_Label label = shapes_->NewShape();
        name(label, {path, title});
        name(shapes_->AddComponent(parent, label, TopLoc_Location()), {path, title});
        return branches_[path] = label;
    }

    /// Validation properties: whoever reads the file can tell whether the solid came through whole. The kernel's
    /// quick integration is exact on prisms (4e-14 of the closed form over random parts), and ten times faster.
    static void add_measures(const TDF_Label& label, const TopoDS_Shape& solid) {
        GProp_GProps volume;
        GProp_GProps surface;
        BRepGProp::VolumeProperties(solid, volume);
        BRepGProp::SurfaceProperties(solid, surface);
        XCAFDoc_Volume::Set(label, volume.Mass());
        XCAFDoc_Area::Set(label, surface.Mass());
        XCAFDoc_Centroid::Set(label, volume.CentreOfMass());
    }

    Handle(TDocStd_Document) document_;
    Handle(XCAFDoc_ShapeTool) shapes_;
    Handle(XCAFDoc_ColorTool) colours_;
    Handle(XCAFDoc_LayerTool) layers_;
    TDF_Label root_;
    std::map<std::string, TDF_Label> branches_;
    std::set<std::string> ids_;
    std::vector<ProductName> names_;
};

/// The settings are the kernel's globals; they exist only once the controller is there, and the schema must
/// be set before the writer is made.
void set_up_translator() {
    STEPControl_Controller::Init();
    // No curves on surfaces: planes and cylinders need none, and they double the file.
    const bool good = Interface_Static::SetCVal("write.step.schema", "AP242DIS") &&
                      Interface_Static::SetCVal("write.step.unit", "MM") &&
                      Interface_Static::SetIVal("write.surfacecurve.mode", 0) &&
                      Interface_Static::SetIVal("write.precision.mode", 0);
    if (!good) throw std::runtime_error("the kernel does not know AP242");
}

Handle(Interface_HArray1OfHAsciiString) one_line(const std::string& text) {
    Handle(Interface_HArray1OfHAsciiString) lines = new Interface_HArray1OfHAsciiString(1, 1);
    lines->SetValue(1, raw_text(text));
    return lines;
}

/// The same job gives the same bytes, so nothing of the day, the person or the machine goes in.
void set_header(const Handle(StepData_StepModel) & model, const StepHeader& header) {
    APIHeaderSection_MakeHeader section(model);
    const std::string revision = header.revision.empty() ? "" : fmt::format(", revision {}", header.revision);
    section.SetDescription(one_line(header.title + revision));
    section.SetName(raw_text(header.title));
    section.SetTimeStamp(raw_text("1970-01-01T00:00:00"));
    section.SetAuthor(one_line(""));
    section.SetOrganization(one_line(""));
    section.SetPreprocessorVersion(raw_text("Open CASCADE " OCC_VERSION_COMPLETE));
    section.SetOriginatingSystem(raw_text("standproud"));
    section.SetAuthorisation(raw_text(""));
    section.Apply(model);
}

std::string text_of(const Handle(StepData_StepModel) & model) {
    StepData_StepWriter writer(model);
    writer.SendModel(Handle(StepData_Protocol)::DownCast(model->Protocol()));
    std::ostringstream text;
    if (writer.CheckList().IsEmpty(true) == false || !writer.Print(text)) {
        throw std::runtime_error("the kernel's STEP model is not whole");
    }
    return with_encoded_strings(text.str());
}

TopoDS_Shape shape_of(const std::variant<Part, PipeSolid>& thing) {
    if (const auto* part = std::get_if<Part>(&thing)) return make_solid(*part);
    return make_solid(std::get<PipeSolid>(thing).pipe);
}

/// What two things both fill, as a part of its own.
bool add_overlap(Tree& tree, const Overlap& overlap) {
    const KernelOverlap common = kernel_overlap(shape_of(overlap.a), shape_of(overlap.b));
    if (common.solid.IsNull() || common.volume < no_volume) return false;
    Part part;
    part.id = overlap.id;
    part.name = overlap.name;
    part.trade = "clash";
    part.layer = "clash";
    tree.add(part, common.solid);
    return true;
}

struct Contents {
    const std::vector<Part>& parts;
    const std::vector<PipeSolid>& pipes;
    const std::vector<Overlap>& overlaps;
    std::size_t clashes = 0;
};

std::string step_text(Contents& contents, const StepHeader& header) {
    const Quiet quiet;
    set_up_translator();
    Tree tree(header.title.empty() ? "job" : header.title);
    for (const auto& part : contents.parts) tree.add(part);
    for (const auto& pipe : contents.pipes) tree.add(pipe.part, make_solid(pipe.pipe));
    for (const auto& overlap : contents.overlaps) contents.clashes += add_overlap(tree, overlap) ? 1 : 0;
    STEPCAFControl_Writer writer;
    writer.SetColorMode(true);
    writer.SetNameMode(true);
    writer.SetLayerMode(true);
    writer.SetPropsMode(true);
    if (!writer.Transfer(tree.document())) throw std::runtime_error("the kernel cannot turn the parts into STEP");
    const Handle(StepData_StepModel) model = writer.ChangeWriter().Model();
    name_products(model, tree.names());
    put_in_order(model);
    set_header(model, header);
    return text_of(model);
}

}  // namespace

std::size_t write_step(const std::vector<Part>& parts, const std::vector<PipeSolid>& pipes,
                       const std::vector<Overlap>& overlaps, const StepHeader& header,
                       const std::filesystem::path& path) {
    if (parts.empty()) throw std::runtime_error(fmt::format("cannot write {}: there are no parts", path.string()));
    std::string text;
    Contents contents{parts, pipes, overlaps};
    try {
        const std::lock_guard lock(step_mutex);
        text = step_text(contents, header);
    } catch (const Standard_Failure& failure) {
        throw std::runtime_error(
            fmt::format("cannot write {}: the kernel says: {}", path.string(), failure.GetMessageString()));
    } catch (const std::runtime_error& fault) {
        throw std::runtime_error(fmt::format("cannot write {}: {}", path.string(), fault.what()));
    }
    write_whole(path, text);
    return contents.clashes;
}

void write_step(const std::vector<Part>& parts, const StepHeader& header, const std::filesystem::path& path) {
    (void)write_step(parts, {}, {}, header, path);
}

}  // namespace standproud
