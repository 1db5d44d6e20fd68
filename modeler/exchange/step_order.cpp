#include "exchange/step_order.hpp"

#include <fmt/format.h>

#include <StepBasic_Product.hxx>
#include <StepRepr_NextAssemblyUsageOccurrence.hxx>
#include <StepVisual_MechanicalDesignGeometricPresentationRepresentation.hxx>
#include <StepVisual_StyledItem.hxx>
#include <TCollection_HAsciiString.hxx>
#include <algorithm>
#include <charconv>
#include <stdexcept>
#include <string_view>

namespace standproud {

namespace {

using Styles = StepVisual_MechanicalDesignGeometricPresentationRepresentation;
using Entities = std::vector<Handle(Standard_Transient)>;

Handle(TCollection_HAsciiString) raw_text(const std::string& text) {
    return new TCollection_HAsciiString(text.c_str());
}

const ProductName& name_for(const Handle(TCollection_HAsciiString) & key, const std::vector<ProductName>& names) {
    const std::string_view text = key.IsNull() ? "" : key->ToCString();
    std::size_t index = names.size();
    if (text.starts_with('#')) std::from_chars(text.data() + 1, text.data() + text.size(), index);
    if (index >= names.size()) throw std::runtime_error(fmt::format("the kernel named a product '{}'", text));
    return names[index];
}

/// The number of the solid that a block of styles belongs to: solids are numbered in the order of the parts.
int styled_solid(const StepData_StepModel& model, const Styles& styles) {
    for (int i = 1; i <= styles.NbItems(); ++i) {
        const auto styled = Handle(StepVisual_StyledItem)::DownCast(styles.ItemsValue(i));
        if (!styled.IsNull() && !styled->Item().IsNull()) return model.Number(styled->Item());
    }
    throw std::runtime_error("the kernel styled nothing");
}

}  // namespace

std::string product_key(std::size_t index) { return fmt::format("#{}", index); }

void name_products(const Handle(StepData_StepModel) & model, const std::vector<ProductName>& names) {
    int uses = 0;
    for (int i = 1; i <= model->NbEntities(); ++i) {
        if (const auto product = Handle(StepBasic_Product)::DownCast(model->Value(i)); !product.IsNull()) {
            const ProductName& name = name_for(product->Name(), names);
            product->SetId(raw_text(name.id));
            product->SetName(raw_text(name.name));
        }
        if (const auto use = Handle(StepRepr_NextAssemblyUsageOccurrence)::DownCast(model->Value(i)); !use.IsNull()) {
            use->SetName(raw_text(name_for(use->Name(), names).id));
            use->SetId(raw_text(fmt::format("{}", ++uses)));
        }
    }
}

void put_in_order(const Handle(StepData_StepModel) & model) {
    Entities all;
    std::vector<std::pair<int, Handle(Styles)>> blocks;
    std::size_t first_block = 0;
    for (int i = 1; i <= model->NbEntities(); ++i) {
        const auto block = Handle(Styles)::DownCast(model->Value(i));
        if (!block.IsNull() && blocks.empty()) first_block = all.size();
        if (!block.IsNull()) blocks.emplace_back(styled_solid(*model, *block), block);
        all.push_back(model->Value(i));
    }
    std::sort(blocks.begin(), blocks.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    model->ClearEntities();
    for (std::size_t i = 0; i < first_block; ++i) model->AddEntity(all[i]);
    for (const auto& block : blocks) model->AddWithRefs(block.second);
    for (const auto& entity : all) {
        if (!model->Contains(entity)) model->AddEntity(entity);
    }
}

}  // namespace standproud
