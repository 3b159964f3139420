#include "sentences.hpp"

#include <algorithm>
#include <cmath>

#include "base/numbers.hpp"
#include "check/cautions.hpp"

namespace bandwright::route {

namespace {

void addOnce(Operation& operation, const std::string& caution) {
    if (std::ranges::find(operation.cautions, caution) == operation.cautions.end())
        operation.cautions.push_back(caution);
}

}  // namespace

std::string inGrams(double grams) {
    return base::fixed(grams, grams < 1 ? 3 : 2) + " g";
}

std::string inAdhesive(double grams, const trade::Adhesive& adhesive) {
    if (!adhesive.drop) return inGrams(grams);
    const double count = std::ceil(grams / adhesive.drop->value - 1e-9);
    return base::fixed(count, 0) + (count == 1 ? " drop" : " drops");
}

std::string counted(int count, const std::string& one) {
    return std::to_string(count) + " " + one + (count == 1 ? "" : "s");
}

std::string inTime(double minutes) {
    constexpr double kHour = 60;
    if (minutes >= 2 * kHour) return base::shortestNumber(base::roundedTo(minutes / kHour, 1)) + " hours";
    return base::shortestNumber(base::roundedTo(minutes, 1)) + " minutes";
}

void addCautions(Operation& operation, const std::vector<trade::Caution>& cautions) {
    for (const trade::Caution& caution : cautions)
        addOnce(operation, caution.text);
}

void addWorkCautions(const Job& job, std::string_view work, Operation& operation) {
    for (const check::MaterialCaution& found : check::cautions(job.design, job.catalogue))
        if (found.material == work) addOnce(operation, found.caution.text);
}

void addHallmark(const Job& job, Operation& operation) {
    for (const check::MaterialCaution& found :
         check::cautions(job.design, job.catalogue, geometry::bodies(job.design)))
        if (found.material == "Hallmark") addOnce(operation, found.caution.text);
}

}  // namespace bandwright::route
