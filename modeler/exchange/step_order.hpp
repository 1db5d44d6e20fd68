// What makes one job give one file: names and an order that do not come from the process it ran in.
#pragma once

#include <StepData_StepModel.hxx>
#include <string>
#include <vector>

namespace standproud {

/// What a product of the file is called: `id` is its own, `name` is in words.
struct ProductName {
    std::string id;
    std::string name;
};

/// The name that stands for names[index] until name_products.
std::string product_key(std::size_t index);

/// Gives products and their uses the names that their keys stand for. The kernel has one name for a label where
/// a product has two, and counts the uses from the start of the process: they are counted again from 1.
void name_products(const Handle(StepData_StepModel) & model, const std::vector<ProductName>& names);

/// The kernel writes styles in the order of addresses in memory: puts them in the order of the solids they style.
void put_in_order(const Handle(StepData_StepModel) & model);

}  // namespace standproud
