// Private pieces of the job reader: one function for each kind of table.
#pragma once

#include "job/table.hpp"

namespace standproud {

std::vector<Layer> read_layers(Table& owner);
Across read_across(Table& table);
Wall read_wall(Table& table, const std::vector<Layer>& layers);
Tray read_tray(Table& table);
PanelRules read_panels(Table& table);
FittingType read_type(Table& table);
StockItem read_stock(Table& table);
PipeRun read_pipe(Table& table);
Screen read_screen(Table& table);
SurveyReadings read_survey(Table& table, const std::vector<Wall>& walls, bool closed, Faults& faults);
SheetStock read_sheet(Table& table);
BenchSettings read_bench(Table& table);
/// `job` gives the +/- of seats that state none.
Fitting read_fitting(Table& table, const Job& job);

/// A fault when `name` is none of `known`, with the nearest one.
void check_reference(const std::string& name, const std::vector<std::string>& known, const char* key,
                     const Source& where, Faults& faults);

}  // namespace standproud
