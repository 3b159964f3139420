#include "dxf_tables.hpp"

#include <algorithm>
#include <utility>

#include "drawing/drawing.hpp"

// After the published DXF reference of release 2000: sections, tables, and the group codes of each entry.
namespace bandwright::formats {

namespace {

constexpr DxfHandle kViewports = 1, kLines = 2, kLayers = 3, kStyles = 4, kViews = 5, kSystems = 6,
                    kApplications = 7, kDimensionStyles = 8, kBlockRecords = 9;
constexpr DxfHandle kRoot = 0x10, kGroups = 0x11, kLayouts = 0x12, kModelLayout = 0x13, kPaperLayout = 0x14;
constexpr DxfHandle kFirstEntry = 0x30, kFirstLayer = 0x80;
constexpr DxfHandle kModelBlock = 0x40, kPaperBlock = 0x42;

void variable(DxfText& dxf, const char* name, int code, const auto& value) {
    dxf.pair(9, name);
    dxf.pair(code, value);
}

void header(DxfText& dxf, double textHeight, const geometry::Rectangle& extent, DxfHandle afterLast) {
    constexpr int kMillimetres = 4;
    dxf.begin("HEADER");
    variable(dxf, "$ACADVER", 1, "AC1015");
    variable(dxf, "$DWGCODEPAGE", 3, "ANSI_1252");
    variable(dxf, "$INSUNITS", 70, kMillimetres);
    variable(dxf, "$MEASUREMENT", 70, 1);
    variable(dxf, "$LUNITS", 70, 2);
    variable(dxf, "$LUPREC", 70, 4);
    variable(dxf, "$TEXTSIZE", 40, textHeight);
    variable(dxf, "$LTSCALE", 40, 1.0);
    dxf.pair(9, "$EXTMIN");
    dxf.point(0, extent.low);
    dxf.pair(9, "$EXTMAX");
    dxf.point(0, extent.high);
    dxf.pair(9, "$HANDSEED");
    dxf.handle(5, afterLast);
    dxf.end();
}

void beginTable(DxfText& dxf, const char* name, DxfHandle table, std::size_t entries) {
    dxf.pair(0, "TABLE");
    dxf.pair(2, name);
    dxf.handle(5, table);
    dxf.handle(330, 0);
    dxf.pair(100, "AcDbSymbolTable");
    dxf.pair(70, static_cast<int>(entries));
}

void beginEntry(DxfText& dxf, const char* type, DxfHandle entry, DxfHandle table, const char* kind,
                int handleCode = 5) {
    dxf.pair(0, type);
    dxf.handle(handleCode, entry);
    dxf.handle(330, table);
    dxf.pair(100, "AcDbSymbolTableRecord");
    dxf.pair(100, kind);
}

void emptyTable(DxfText& dxf, const char* name, DxfHandle table) {
    beginTable(dxf, name, table, 0);
    dxf.pair(0, "ENDTAB");
}

void viewports(DxfText& dxf, const geometry::Rectangle& extent) {
    beginTable(dxf, "VPORT", kViewports, 1);
    beginEntry(dxf, "VPORT", kFirstEntry, kViewports, "AcDbViewportTableRecord");
    dxf.pair(2, "*Active");
    dxf.pair(70, 0);
    const geometry::Vec2 middle = 0.5 * (extent.low + extent.high), size = extent.high - extent.low;
    dxf.pair(10, 0.0);
    dxf.pair(20, 0.0);
    dxf.pair(11, 1.0);
    dxf.pair(21, 1.0);
    dxf.pair(12, middle.z);
    dxf.pair(22, middle.r);
    dxf.pair(40, 1.1 * std::max(size.r, size.z / 1.5));
    dxf.pair(41, 1.5);
    dxf.pair(0, "ENDTAB");
}

void lineType(DxfText& dxf, DxfHandle handle, const char* name, const char* looks,
              const std::vector<double>& dashes) {
    beginEntry(dxf, "LTYPE", handle, kLines, "AcDbLinetypeTableRecord");
    dxf.pair(2, name);
    dxf.pair(70, 0);
    dxf.pair(3, looks);
    dxf.pair(72, 65);
    dxf.pair(73, static_cast<int>(dashes.size()));
    double whole = 0;
    for (const double length : dashes)
        whole += length;
    dxf.pair(40, whole);
    for (std::size_t i = 0; i < dashes.size(); ++i) {
        dxf.pair(49, i % 2 == 0 ? dashes[i] : -dashes[i]);
        dxf.pair(74, 0);
    }
}

void lineTypes(DxfText& dxf, double textHeight) {
    beginTable(dxf, "LTYPE", kLines, 5);
    DxfHandle entry = kFirstEntry + 1;
    for (const char* name : {"ByBlock", "ByLayer", "Continuous"})
        lineType(dxf, entry++, name, "", {});
    lineType(dxf, entry++, kHiddenLine, "_ _ _ _", drawing::dashes(drawing::LineKind::Hidden, textHeight));
    lineType(dxf, entry++, kAxisLine, "__ . __ .", drawing::dashes(drawing::LineKind::Axis, textHeight));
    dxf.pair(0, "ENDTAB");
}

void layerTable(DxfText& dxf, const std::vector<DxfLayer>& layers) {
    beginTable(dxf, "LAYER", kLayers, layers.size());
    DxfHandle entry = kFirstLayer;
    for (const DxfLayer& layer : layers) {
        beginEntry(dxf, "LAYER", entry++, kLayers, "AcDbLayerTableRecord");
        dxf.pair(2, layer.name);
        dxf.pair(70, 0);
        dxf.pair(62, layer.colour);
        dxf.pair(6, layer.line);
        dxf.pair(370, layer.width);
    }
    dxf.pair(0, "ENDTAB");
}

void styles(DxfText& dxf, double textHeight) {
    beginTable(dxf, "STYLE", kStyles, 1);
    beginEntry(dxf, "STYLE", kTextStyle, kStyles, "AcDbTextStyleTableRecord");
    dxf.pair(2, "Standard");
    dxf.pair(70, 0);
    dxf.pair(40, 0.0);
    dxf.pair(41, 1.0);
    dxf.pair(50, 0.0);
    dxf.pair(71, 0);
    dxf.pair(42, textHeight);
    dxf.pair(3, "txt");
    dxf.pair(4, "");
    dxf.pair(0, "ENDTAB");
}

/// Sizes in mm of the ring, as the drawing has them (dimensioning.cpp).
void dimensionStyles(DxfText& dxf, double textHeight) {
    beginTable(dxf, "DIMSTYLE", kDimensionStyles, 1);
    dxf.pair(100, "AcDbDimStyleTable");
    beginEntry(dxf, "DIMSTYLE", kFirstEntry + 8, kDimensionStyles, "AcDbDimStyleTableRecord", 105);
    dxf.pair(2, "Standard");
    dxf.pair(70, 0);
    dxf.pair(40, 1.0);
    dxf.pair(41, textHeight);        // arrowheads
    dxf.pair(42, 0.3 * textHeight);  // gap under an extension line
    dxf.pair(44, 0.8 * textHeight);  // and how far it goes on
    dxf.pair(140, textHeight);
    dxf.pair(147, 0.4 * textHeight);
    dxf.pair(73, 0);
    dxf.pair(74, 0);
    dxf.pair(77, 1);
    dxf.pair(78, 0);
    dxf.pair(271, 2);
    dxf.handle(340, kTextStyle);
    dxf.pair(0, "ENDTAB");
}

void blockRecord(DxfText& dxf, DxfHandle record, const std::string& name, DxfHandle layout) {
    beginEntry(dxf, "BLOCK_RECORD", record, kBlockRecords, "AcDbBlockTableRecord");
    dxf.pair(2, name);
    dxf.handle(340, layout);
}

void blockRecords(DxfText& dxf, const std::vector<DxfBlock>& blocks) {
    beginTable(dxf, "BLOCK_RECORD", kBlockRecords, blocks.size() + 2);
    blockRecord(dxf, kModelSpace, "*Model_Space", kModelLayout);
    blockRecord(dxf, kPaperSpace, "*Paper_Space", kPaperLayout);
    for (const DxfBlock& block : blocks)
        blockRecord(dxf, block.record, block.name, 0);
    dxf.pair(0, "ENDTAB");
}

void block(DxfText& dxf, const DxfBlock& block, bool isAnonymous) {
    dxf.pair(0, "BLOCK");
    dxf.handle(5, block.begin);
    dxf.handle(330, block.record);
    dxf.pair(100, "AcDbEntity");
    dxf.pair(8, "0");
    dxf.pair(100, "AcDbBlockBegin");
    dxf.pair(2, block.name);
    dxf.pair(70, isAnonymous ? 1 : 0);
    dxf.point(0, {});
    dxf.pair(3, block.name);
    dxf.pair(1, "");
    dxf.append(block.entities);
    dxf.pair(0, "ENDBLK");
    dxf.handle(5, block.end);
    dxf.handle(330, block.record);
    dxf.pair(100, "AcDbEntity");
    dxf.pair(8, "0");
    dxf.pair(100, "AcDbBlockEnd");
}

void dictionary(DxfText& dxf, DxfHandle handle, DxfHandle owner,
                const std::vector<std::pair<const char*, DxfHandle>>& entries) {
    dxf.pair(0, "DICTIONARY");
    dxf.handle(5, handle);
    dxf.handle(330, owner);
    dxf.pair(100, "AcDbDictionary");
    dxf.pair(281, 1);
    for (const auto& [name, entry] : entries) {
        dxf.pair(3, name);
        dxf.handle(350, entry);
    }
}

void layout(DxfText& dxf, DxfHandle handle, const char* name, int place, DxfHandle space) {
    constexpr int kOfModel = 1024;
    dxf.pair(0, "LAYOUT");
    dxf.handle(5, handle);
    dxf.handle(330, kLayouts);
    dxf.pair(100, "AcDbPlotSettings");
    dxf.pair(1, "");
    dxf.pair(2, "none_device");
    dxf.pair(4, "");
    dxf.pair(6, "");
    for (const int code : {40, 41, 42, 43, 44, 45, 46, 47, 48, 49, 140, 141})
        dxf.pair(code, 0.0);
    dxf.pair(142, 1.0);
    dxf.pair(143, 1.0);
    dxf.pair(70, place == 0 ? kOfModel : 0);
    dxf.pair(72, 1);
    dxf.pair(73, 0);
    dxf.pair(74, 5);
    dxf.pair(7, "");
    dxf.pair(75, 16);
    dxf.pair(147, 1.0);
    dxf.pair(148, 0.0);
    dxf.pair(149, 0.0);
    dxf.pair(100, "AcDbLayout");
    dxf.pair(1, name);
    dxf.pair(70, 1);
    dxf.pair(71, place);
    for (const int which : {0, 1}) {
        dxf.pair(10 + which, 0.0);
        dxf.pair(20 + which, 0.0);
    }
    for (const int which : {2, 4, 5, 3})
        dxf.point(which, {});
    dxf.point(6, {1, 0});
    dxf.point(7, {0, 1});
    dxf.pair(146, 0.0);
    dxf.pair(76, 1);
    dxf.handle(330, space);
}

}  // namespace

DxfText headAndTables(const std::vector<DxfLayer>& layers, const std::vector<DxfBlock>& blocks,
                      double textHeight, const geometry::Rectangle& extent, DxfHandle afterLast) {
    DxfText dxf;
    header(dxf, textHeight, extent, afterLast);
    dxf.begin("CLASSES");
    dxf.end();
    dxf.begin("TABLES");
    viewports(dxf, extent);
    lineTypes(dxf, textHeight);
    layerTable(dxf, layers);
    styles(dxf, textHeight);
    emptyTable(dxf, "VIEW", kViews);
    emptyTable(dxf, "UCS", kSystems);
    beginTable(dxf, "APPID", kApplications, 1);
    beginEntry(dxf, "APPID", kFirstEntry + 7, kApplications, "AcDbRegAppTableRecord");
    dxf.pair(2, "ACAD");
    dxf.pair(70, 0);
    dxf.pair(0, "ENDTAB");
    dimensionStyles(dxf, textHeight);
    blockRecords(dxf, blocks);
    dxf.end();
    dxf.begin("BLOCKS");
    block(dxf, {"*Model_Space", kModelSpace, kModelBlock, kModelBlock + 1, {}}, false);
    block(dxf, {"*Paper_Space", kPaperSpace, kPaperBlock, kPaperBlock + 1, {}}, false);
    for (const DxfBlock& each : blocks)
        block(dxf, each, true);
    dxf.end();
    return dxf;
}

DxfText objects() {
    DxfText dxf;
    dxf.begin("OBJECTS");
    dictionary(dxf, kRoot, 0, {{"ACAD_GROUP", kGroups}, {"ACAD_LAYOUT", kLayouts}});
    dictionary(dxf, kGroups, kRoot, {});
    dictionary(dxf, kLayouts, kRoot, {{"Model", kModelLayout}, {"Layout1", kPaperLayout}});
    layout(dxf, kModelLayout, "Model", 0, kModelSpace);
    layout(dxf, kPaperLayout, "Layout1", 1, kPaperSpace);
    dxf.end();
    return dxf;
}

}  // namespace bandwright::formats
