#include "paper/client_papers.hpp"

#include <algorithm>

#include "base/numbers.hpp"
#include "design/fields.hpp"
#include "design/measured.hpp"
#include "paper/flow.hpp"
#include "paper_parts.hpp"

namespace bandwright::paper {

namespace {

constexpr TextStyle kBody{.size = 3.5};

void addList(std::vector<Block>& blocks, const std::string& head, const std::vector<std::string>& sentences) {
    if (sentences.empty()) return;
    blocks.push_back(Heading{head, 1});
    for (const std::string& sentence : sentences)
        blocks.push_back(Paragraph{sentence, kBody});
}

Table factsTable(const std::vector<std::pair<std::string, std::string>>& facts) {
    Table table{{{"", 0.22}, {"", 0.78}}, {}, kBody.size, true};
    for (const auto& [label, text] : facts)
        table.rows.push_back({{.words = label, .weight = Weight::SemiBold}, {.words = text}});
    return table;
}

FlowLayout layoutOf(Size sheet, const std::string& left, const std::string& date) {
    FlowLayout layout{.sheet = sheet, .left = 16, .right = 16, .above = 14, .below = 14};
    layout.footLeft = left;
    layout.footMiddle = date;
    return layout;
}

double widthOf(const FlowLayout& layout) {
    return layout.sheet.width - layout.left - layout.right;
}

void addMaker(std::vector<Block>& blocks, const std::string& name, const std::string& address) {
    if (name.empty()) return;
    blocks.push_back(
        Paragraph{name + (address.empty() ? "" : ", " + address), {.size = 3.2, .colour = kGrey}});
}

/// A label and a line to write on.
Table linesTable(const std::vector<std::string>& labels) {
    Table table{{{"", 0.4}, {"", 0.6}}, {}, kBody.size, true};
    for (const std::string& label : labels)
        table.rows.push_back({{.words = label}, {.write = true}});
    return table;
}

std::string amountText(const route::QuoteLine& line) {
    return base::fixed(line.amount, line.amount >= 1 ? 2 : 3) + " " + line.unit;
}

void addLines(std::vector<Block>& blocks, const std::vector<route::QuoteLine>& lines,
              const std::string& head) {
    if (lines.empty()) return;
    blocks.push_back(Heading{head, 2});
    Table table{{{"", 0.46},
                 {"amount", 0.18, Align::Right},
                 {"each", 0.18, Align::Right},
                 {"sum", 0.18, Align::Right}},
                {},
                3.2};
    for (const route::QuoteLine& line : lines)
        table.rows.push_back({{.words = line.what + (line.guessed ? " (our first guess)" : "")},
                              {.words = amountText(line)},
                              {.words = base::fixed(line.price, 2)},
                              {.words = route::money(line.cents)}});
    blocks.push_back(table);
}

std::string percentText(double percent) {
    return base::shortestNumber(base::roundedTo(percent, 2)) + " %";
}

Table sumsTable(const route::Quote& quote, bool isInternal) {
    Table table{{{"", 0.7}, {"", 0.3, Align::Right}}, {}, kBody.size, true};
    const auto add = [&](const std::string& label, route::Cents cents, Weight weight = Weight::Regular) {
        table.rows.push_back(
            {{.words = label, .weight = weight}, {.words = route::money(cents), .weight = weight}});
    };
    if (isInternal) {
        add("Materials", quote.materialSum);
        add("Waste, " + percentText(quote.wastePercent), quote.waste);
        add("Work", quote.workSum);
        add("Cost", quote.cost, Weight::SemiBold);
        add("Margin, " + percentText(quote.marginPercent), quote.margin);
    }
    if (quote.tax != 0) {
        add("Before tax", quote.net);
        add("Tax, " + percentText(quote.taxPercent), quote.tax);
    }
    add("Total" + (quote.currency.empty() ? "" : ", " + quote.currency), quote.total, Weight::Bold);
    return table;
}

/// A row of choices to tick, and room for another.
void addChoices(std::vector<Block>& blocks, const std::string& what,
                const std::vector<std::string>& choices) {
    Table table{{{"", 1.3}}, {{{.words = what, .weight = Weight::SemiBold}}}, kBody.size, true};
    for (const std::string& choice : choices) {
        table.columns.push_back({"", 1});
        table.rows[0].push_back({.words = choice, .tick = true});
    }
    blocks.push_back(table);
}

}  // namespace

std::vector<Page> clientCard(const Job& job, const std::string& price, Size sheet) {
    const FlowLayout layout = layoutOf(sheet, job.design.title, job.date);
    const ClientWords words = clientWords(job);
    std::vector<Block> blocks{Heading{job.design.title, 0}};
    addMaker(blocks, job.workshop.name, job.workshop.address);
    if (!job.picture.png.empty())
        blocks.push_back(pictureFigure(job.picture, widthOf(layout), 0.26 * sheet.height, job.design.title));
    blocks.push_back(factsTable(words.facts));
    if (!price.empty())
        blocks.push_back(Paragraph{"Price: " + price, {.size = 4, .weight = Weight::SemiBold}});
    addList(blocks, "Good to know", words.know);
    addList(blocks, "Care", words.care);
    addList(blocks, "Later", words.later);
    addList(blocks, "In an emergency", words.emergency);
    return flow(blocks, layout);
}

std::vector<Page> quotePages(const route::Quote& quote, const Picture& picture, bool isInternal, Size sheet) {
    const FlowLayout layout = layoutOf(sheet, quote.title, route::inWords(quote.date));
    std::vector<Block> blocks{Heading{(isInternal ? "Internal sheet: " : "Quote: ") + quote.title, 0}};
    addMaker(blocks, quote.maker, quote.address);
    std::string stands = "Of " + route::inWords(quote.date);
    if (quote.until) stands += ", stands until " + route::inWords(*quote.until);
    blocks.push_back(Paragraph{stands + ".", kBody});
    if (!picture.png.empty())
        blocks.push_back(pictureFigure(picture, widthOf(layout), 0.25 * sheet.height, quote.title));
    for (const std::string& line : quote.ring)
        blocks.push_back(Paragraph{line, kBody});
    if (isInternal) {
        addLines(blocks, quote.material, "Materials");
        addLines(blocks, quote.work, "Work");
    }
    blocks.push_back(Space{4});
    blocks.push_back(sumsTable(quote, isInternal));
    if (isInternal)
        addList(blocks, "Not in the total, for no price was told", quote.unpriced);
    else
        blocks.push_back(linesTable({"Agreed, date and name"}));
    return flow(blocks, layout);
}

std::vector<Page> certificate(const Job& job, Size sheet) {
    const FlowLayout layout = layoutOf(sheet, job.design.title, job.date);
    std::vector<Block> blocks{Heading{"Certificate", 0}, Heading{job.design.title, 1}};
    addMaker(blocks, job.workshop.name, job.workshop.address);
    if (!job.picture.png.empty())
        blocks.push_back(pictureFigure(job.picture, widthOf(layout), 0.3 * sheet.height, job.design.title));
    blocks.push_back(factsTable(clientWords(job).facts));
    std::vector<std::string> read;
    for (const design::Measured& reading : job.design.measured)
        if (reading.value > 0 && reading.what != design::Measurable::Mass)
            read.push_back(std::string(design::kMeasurables[reading.what].label) + ", " +
                           std::string(design::word(reading.stage).label) + ": " + design::inWords(reading) +
                           (reading.instrument.empty() ? "" : ", " + reading.instrument) +
                           (reading.date.empty() ? "" : ", " + reading.date));
    addList(blocks, read.empty() ? "" : "Measured in the making", read);
    blocks.push_back(Paragraph{read.empty() ? "The dimensions are those of the design."
                                            : "The dimensions are those that follow from these readings.",
                               {.size = 3, .colour = kGrey}});
    blocks.push_back(Space{6});
    const design::Measured* weighed = design::lastMass(job.design);
    if (weighed != nullptr) {
        const std::string how = (weighed->instrument.empty() ? "" : ", " + weighed->instrument) +
                                (weighed->date.empty() ? "" : ", " + weighed->date);
        blocks.push_back(Paragraph{"Weighed: " + design::inWords(*weighed) + how + ".",
                                   {.size = 4, .weight = Weight::SemiBold}});
        blocks.push_back(linesTable({"Fineness marked", "Made and signed by", "Date"}));
    } else {
        blocks.push_back(linesTable({"Weighed, g", "Fineness marked", "Made and signed by", "Date"}));
    }
    return flow(blocks, layout);
}

std::vector<Page> consultationForm(const trade::Workshop& workshop, const std::string& date, Size sheet) {
    FlowLayout layout = layoutOf(sheet, workshop.name, date);
    layout.above = layout.below = 8;
    std::vector<Block> blocks{Heading{"A ring to order", 0}};
    addMaker(blocks, workshop.name, workshop.address);
    blocks.push_back(linesTable({"Name", "Phone or mail", "Wanted by, budget"}));
    blocks.push_back(Heading{"The finger", 1});
    addChoices(blocks, "Hand", {"left", "right"});
    addChoices(blocks, "Measured with", {"narrow rings", "wide rings", "a ring that fits"});
    blocks.push_back(linesTable(
        {"Finger", "Size and system, on a warm hand", "Size over the knuckle", "Other rings on that hand"}));
    blocks.push_back(Heading{"The work of the hand", 1});
    addChoices(blocks, "Wears it at", {"desk", "tools", "water", "sport"});
    addChoices(blocks, "Skin", {"nickel allergy", "none known"});
    blocks.push_back(Heading{"The ring", 1});
    addChoices(blocks, "Metal", {"gold", "silver", "steel", "titanium", "zirconium"});
    addChoices(blocks, "Outside", {"flat", "domed", "hollow", "knife edge"});
    addChoices(blocks, "Edges", {"bevelled", "round", "sharp"});
    addChoices(blocks, "Bore", {"comfort", "straight"});
    addChoices(blocks, "Finish", {"polished", "satin", "turned", "hammered"});
    addChoices(blocks, "Inlay", {"stone", "glow", "none"});
    addChoices(blocks, "Stones", {"in tubes", "in the metal", "none"});
    blocks.push_back(linesTable({"Width and thickness, mm", "Inlay: what, colour, where",
                                 "Stones: what, size, how many", "Engraving"}));
    blocks.push_back(Heading{"Said and understood", 2});
    for (const char* sentence :
         {"How it can be resized, and that some rings cannot.", "How it comes off a swollen finger.",
          "What inlay and stone stand, and how to clean them.", "Price, deposit and date."})
        blocks.push_back(Tick{sentence, kBody});
    blocks.push_back(linesTable({"Date and names"}));
    return flow(blocks, layout);
}

}  // namespace bandwright::paper
