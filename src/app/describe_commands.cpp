#include <string>
#include <vector>

#include "base/wording.hpp"
#include "call.hpp"

/// The commands, their options and their help. What each does is in command_line.cpp.
namespace bandwright::app {

namespace {

void addOwnFiles(CLI::App& command, Call& call) {
    command.add_option("--materials", call.materials,
                       "your own materials (JSON), added to the built-in ones");
    command.add_option("--limits", call.limits, "your own limits (JSON), in place of the built-in ones");
    command.add_option("--workshop", call.workshop, "what stands in your workshop (JSON)");
}

void addOutside(CLI::App& command, Call& call) {
    command.add_flag("--allow-outside", call.allowOutside,
                     "let the design read models of stones from outside its folder");
}

void addStage(CLI::App& command, Call& call) {
    addOwnFiles(command, call);
    command.add_option("--stage", call.stage,
                       "the ring after this step of its route, such as channelled or sized, or finished");
}

void addDesign(CLI::App& command, Call& call) {
    command.add_option("FILE", call.file, "the design, NAME.ring.json, or a PDF that carries one")
        ->required();
    addStage(command, call);
    addOutside(command, call);
}

void addFiles(CLI::App& command, Call& call) {
    command
        .add_option(
            "FILE", call.files,
            "the design, NAME.ring.json, or a PDF that carries one; of several, each is told in a JSON "
            "line, in their order, by all processors, and what is written needs {} for the name of each")
        ->required();
    addOutside(command, call);
    command.add_option("--into", call.into,
                       "append the lines to this file; called again, it goes on where it was stopped");
}

void addDesigns(CLI::App& command, Call& call) {
    addFiles(command, call);
    addStage(command, call);
}

void describePicture(CLI::App& command, Call& call) {
    PictureCall& picture = call.picture;
    addDesigns(command, call);
    command.add_option("-o,--out", picture.out, "the file to write: .png, or .webp for a turntable")
        ->required();
    command.add_option("--width", picture.width, "of the whole picture, pixels")->capture_default_str();
    command.add_option("--height", picture.height, "of the whole picture, pixels")->capture_default_str();
    command
        .add_option("--azimuth", picture.camera.azimuth, "degrees; 0 looks into the bore, 90 at the outside")
        ->capture_default_str();
    command.add_option("--elevation", picture.camera.elevation, "degrees above the floor")
        ->capture_default_str();
    command.add_option("--zoom", picture.camera.zoom, "1 fits the ring into the picture")
        ->capture_default_str();
    command
        .add_option("--view", picture.views,
                    "what to see; several, with commas, share the picture: " + base::joined(viewNames()))
        ->delimiter(',');
    command.add_option("--studio", picture.studio, "the light: " + base::joined(studioNames()))
        ->capture_default_str();
    command.add_flag("--transparent", picture.transparent, "nothing behind the ring but its shadow");
    command.add_flag("--scale-bar", picture.scaleBar,
                     "a bar of a round number of mm, true at the ring's middle");
    command.add_option("--dpi", picture.dotsPerInch,
                       "true to scale at this many dots per inch; overrides --zoom");
    command
        .add_option("--minutes-dark", picture.minutesDark,
                    "minutes since the lights went out; glowing fills fade")
        ->capture_default_str();
    command.add_flag("--paint-walls", picture.wallMap,
                     "paint the metal by its wall in every view: bright at the least allowed, dark at the "
                     "band's thickness");
    command.add_flag("--turntable", picture.turntable, "one full turn as a moving picture (.webp)");
    command.add_option("--frames", picture.frames, "pictures in the turntable")->capture_default_str();
}

void describeExport(CLI::App& command, Call& call) {
    ExportCall& exporting = call.exporting;
    addDesigns(command, call);
    command
        .add_option("-o,--out", exporting.out,
                    "the file to write, with {} for the name of each of several designs; its ending says the "
                    "format: " +
                        formatsText())
        ->required();
    command
        .add_option("--chord", exporting.chord,
                    "most distance of a triangle from the true surface, micrometres")
        ->capture_default_str();
    command
        .add_option("--parts", exporting.parts,
                    "only these, with commas: band, liner, fill-1, tube, stone-2 and so on; a word without a "
                    "number means all of its kind")
        ->delimiter(',');
    command.add_option(
        "--shrink", exporting.shrink,
        "make it larger for casting, by this percentage, or by what the catalogue tells of the "
        "metal: metal");
    command.add_flag("--plain", exporting.plain,
                     "no textures: of grains, layers and the like the mean colour alone (.glb)");
    command.add_flag("--one-body", exporting.oneBody,
                     "all parts as one body without materials, for reference in another program");
}

void describeCompare(CLI::App& command, Call& call) {
    CompareCall& comparing = call.comparing;
    addDesign(command, call);
    command.add_option("BODY", comparing.body, "the real body, closed: .stl, .obj or .ply")->required();
    command
        .add_option(
            "-o,--out", comparing.out,
            "a file to write, several with commas: .png, the deviation as a picture, blue where metal is "
            "missing and red where there is extra; .ply, the body in the ring's place with the deviation "
            "at each point")
        ->delimiter(',');
    command.add_option("--unit", comparing.unit, "of the body's file: mm, cm, m or in")
        ->capture_default_str();
    command
        .add_option(
            "--parts", comparing.parts,
            "what the body is of the ring, with commas: band, liner, fill-1, tube, stone-2 and so on; "
            "a word without a number means all of its kind")
        ->delimiter(',')
        ->capture_default_str();
    command.add_flag("--scale", comparing.scale,
                     "also seek by how much the body must be enlarged to fit, as after casting");
    command.add_flag("--hold-axis", comparing.holdAxis,
                     "the file's z axis is the ring's: only turn the body about it and shift it along");
    command.add_option("--beyond", comparing.beyond, "name features that are out by more than this, mm")
        ->capture_default_str();
    command.add_flag("--json", call.json, "one JSON object instead of text");
}

void describeSection(CLI::App& command, Call& call) {
    SectionCall& section = call.section;
    addDesigns(command, call);
    command
        .add_option("-o,--out", section.out,
                    "the file to write: .pdf with every sheet and the design in it; .svg or .png of one "
                    "sheet, further sheets beside it as NAME-2, NAME-3; .dxf of all views in mm of the ring")
        ->required();
    command.add_option("--paper", section.paper, "a4, a5 or letter")->capture_default_str();
    command.add_option("--scale", section.scale,
                       "of the sections, such as 10 for 10:1; else the largest of ISO 5455 that fits");
    command.add_option("--date", section.date,
                       "of issue, as 2026-11-27; else the day the design's file was last changed");
    command.add_option("--owner", section.owner, "the workshop, for the title block");
    command.add_option("--dpi", section.dotsPerInch, "dots per inch of a .png")->capture_default_str();
}

void describeSheets(CLI::App& command, Call& call) {
    addOwnFiles(command, call);
    command.add_option("--paper", call.paper.paper, "a4, a5 or letter; else as the workshop says, or a4");
    command.add_option("--date", call.paper.date,
                       "of issue, as 2026-11-27; else the day the design's file was last changed");
}

void describePapers(CLI::App& program, Call& call) {
    const auto add = [&](const char* name, const char* what, const char* endings) {
        CLI::App* command = program.add_subcommand(name, what);
        addFiles(*command, call);
        command->add_option("-o,--out", call.paper.out, endings)->required();
        describeSheets(*command, call);
        return command;
    };
    constexpr const char* kPdf = "the file to write: .pdf, with the design in it";
    add("sheet", "The bench sheet: each operation with what to set, read and tick", kPdf)
        ->add_flag("--brief", call.paper.brief, "one table: tool, speed, dial and reading of each operation");
    add("card", "The client's card: the ring, its care, and how it comes off in an emergency",
        "the file to write: .pdf, with the design in it, or .html for a phone")
        ->add_flag("--price", call.paper.price, "with the total of the quote");
    add("page", "The client's card as a page in which the ring can be turned",
        "the file to write: .html, one file that needs no network")
        ->add_flag("--price", call.paper.price, "with the total of the quote");
    add("certificate", "What the ring is, by what was measured in the making", kPdf);
    CLI::App* form = program.add_subcommand("form", "A form to fill in with a client");
    form->add_option("-o,--out", call.paper.out, "the file to write: .pdf")->required();
    describeSheets(*form, call);
}

}  // namespace

void describeCommands(CLI::App& program, Call& call) {
    CLI::App* check =
        program.add_subcommand("check", "The verdict and every gauge; ends with 1 when one is no-go");
    addDesigns(*check, call);
    check->add_flag("--json", call.json, "one JSON object instead of text");
    check->add_flag("--all", call.all, "list every gauge, also those that are go and far from their limits");

    check->add_flag("--tolerances", call.tolerances,
                    "the worst case and the chance of no-go of each gauge beside its value");
    check->add_option("--at", call.at, "judge the ring as drawn (nominal) or at the worst case (worst)")
        ->capture_default_str();

    CLI::App* mending = program.add_subcommand("mend", "A design near this one in which nothing is no-go");
    addFiles(*mending, call);
    addOwnFiles(*mending, call);
    mending->add_option("-o,--out", call.out, "the design to write")->required();
    mending
        ->add_option(
            "--lock", call.lock,
            "what to leave alone, such as band.thickness,settings[0].hole,settings[#].tube.metal, besides "
            "the client's wishes: finger, band.width, band.metal, the stones, their sizes and how many there "
            "are, the fillers")
        ->delimiter(',');
    mending->add_option("--remedy", call.remedy,
                        "carry out one remedy alone, by the number check gives it, also one of order or "
                        "material");
    mending
        ->add_option("--free", call.free,
                     "wishes that may change after all, such as band.width or band.metal")
        ->delimiter(',');

    CLI::App* sweeping = program.add_subcommand(
        "sweep", "Many rings like this one, judged: a table for a spreadsheet, and a design file for each");
    sweeping->add_option("FILE", call.file, "the design, NAME.ring.json, or a PDF that carries one")
        ->required();
    addOwnFiles(*sweeping, call);
    addOutside(*sweeping, call);
    sweeping
        ->add_option("--vary", call.vary,
                     "a field and its values: band.width=4:8:0.5 (from, to, step), finger.size='US 6,US 7', "
                     "band.metal=titanium-grade-2,tantalum; several give every combination")
        ->required();
    sweeping->add_option("-o,--out", call.out, "also write each ring's design, with {} for its name");
    sweeping->add_flag("--json", call.json, "a JSON object a line instead of comma-separated values");
    sweeping->add_option("--into", call.into,
                         "append the JSON lines to this file; called again, it goes on where it was stopped");

    CLI::App* rules = program.add_subcommand("rules", "Every rule, its limits, their sources and the reason");
    addOwnFiles(*rules, call);
    rules->add_flag("--json", call.json, "one JSON object instead of text");

    CLI::App* weighing =
        program.add_subcommand("weigh", "Mass, volume, area and balance of every part and of the ring");
    addDesigns(*weighing, call);
    weighing->add_flag("--json", call.json, "one JSON object instead of text");

    CLI::App* routing = program.add_subcommand(
        "route", "The work at the bench: operations in order, with what to set and read");
    addDesigns(*routing, call);
    routing->add_flag("--json", call.json, "one JSON object instead of text");

    CLI::App* quoting =
        program.add_subcommand("quote", "What the ring costs by the prices of your workshop file");
    addFiles(*quoting, call);
    addOwnFiles(*quoting, call);
    quoting->add_option("-o,--out", call.paper.out,
                        "a .pdf to write, with the design in it; else text is printed");
    quoting->add_option("--paper", call.paper.paper, "a4, a5 or letter; else as the workshop says, or a4");
    quoting->add_option("--date", call.paper.date,
                        "of the quote, as 2026-11-27; today where it is not given");
    quoting->add_flag("--internal", call.internal,
                      "your own sheet too: materials, hours, margin, to be added up again");
    quoting->add_flag("--json", call.json, "one JSON object instead of text");

    describeExport(
        *program.add_subcommand("export", "The ring as a model file for another machine or program"), call);
    describeCompare(*program.add_subcommand("compare",
                                            "How a cast, a print or a scan differs from the ring as "
                                            "designed; ends with 1 when a wall of it is no-go"),
                    call);
    describePicture(*program.add_subcommand("picture", "A picture of the ring, without a display"), call);

    describePapers(program, call);
    describeSection(*program.add_subcommand("section", "The section drawing to scale, on sheets of paper"),
                    call);

    CLI::App* size = program.add_subcommand("size", "The same finger in every ring-size system");
    size->add_option("SIZE", call.size, "as in \"US 9.5\", \"UK R 1/2\", \"ISO 60\", \"18.95 mm\"")
        ->required();

    program.add_option("FILE", call.file,
                       "a design to open in the window, NAME.ring.json, or a PDF that carries one");
    addOwnFiles(program, call);
    addOutside(program, call);
    program.add_flag("--man-page", call.manPage, "print the page for man(1) and exit");
    program.add_flag("--bash-completion", call.bashCompletion,
                     "print what bash completes the commands by, to be sourced, and exit");
    // For measuring how long the start takes; of no use to others, so --help leaves it out.
    program.add_flag("--close-when-shown", call.closeWhenShown)->group("");
}

}  // namespace bandwright::app
