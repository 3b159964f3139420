/// Writes what the program makes of designs drawn by lot: usage print_rings COUNT FOLDER. The files: `shape`,
/// the parts and which points their triangles join, `numbers`, the coordinates and measures as they lie in
/// memory, and `report`, the text that a person reads.
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

#include "app/report_text.hpp"
#include "base/input_error.hpp"
#include "check/check.hpp"
#include "geometry/ring.hpp"
#include "random_design.hpp"

using namespace bandwright;
using namespace bandwright::app;

namespace {

template <class Value>
void writeAs(std::ofstream& out, const Value& value) {
    out.write(reinterpret_cast<const char*>(&value), sizeof value);
}

void print(const design::Design& design, std::ofstream& shape, std::ofstream& numbers,
           std::ofstream& report) {
    const geometry::BuildOptions coarse{base::Micrometres(50)};
    for (const geometry::Part& part : geometry::buildParts(design, design::Stage::Finished, coarse)) {
        shape << geometry::name(part) << ' ' << part.mesh.points.size() << '\n';
        for (const auto& triangle : part.mesh.triangles) {
            for (const std::uint32_t vertex : triangle)
                shape << part.mesh.pointOf[vertex] << ' ';
        }
        for (const geometry::Vec3& point : part.mesh.points)
            writeAs(numbers, point);
    }
    const check::Report found = check::check(design, trade::builtInCatalogue(), {.remedies = false});
    for (const geometry::SolidPart& body : found.bodies)
        writeAs(numbers, body.solid.volume);
    for (const check::Measure& measure : found.measures)
        writeAs(numbers, measure.value);
    TextStyle style;
    style.all = true;
    report << reportText(design, found, found.bodies, trade::builtInCatalogue(), style);
}

}  // namespace

int main(int argc, char** argv) {
    if (argc != 3) return EXIT_FAILURE;
    const std::filesystem::path folder = argv[2];
    std::ofstream shape(folder / "shape"), numbers(folder / "numbers"), report(folder / "report");
    for (std::uint64_t seed = 0; seed < std::strtoull(argv[1], nullptr, 10); ++seed) {
        shape << "\ndesign " << seed << '\n';
        try {
            print(geometry::randomDesign(seed), shape, numbers, report);
        } catch (const base::InputError& refusal) {
            report << refusal.what() << '\n';
        }
    }
    return shape.good() && numbers.good() && report.good() ? EXIT_SUCCESS : EXIT_FAILURE;
}
