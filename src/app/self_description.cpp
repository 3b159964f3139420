#include "self_description.hpp"

#include <algorithm>
#include <cctype>
#include <utility>
#include <vector>

#include "base/wording.hpp"
#include "design/route.hpp"
#include "picture.hpp"

namespace bandwright::app {

namespace {

std::vector<const CLI::App*> commandsOf(const CLI::App& program) {
    return program.get_subcommands([](const CLI::App*) { return true; });
}

/// Those that --help lists; an empty group hides an option from it.
std::vector<const CLI::Option*> optionsOf(const CLI::App& command) {
    return command.get_options([](const CLI::Option* option) { return !option->get_group().empty(); });
}

/// As text of a page: signs that the formatter would take for its own are escaped.
std::string asText(const std::string& text) {
    std::string page;
    for (const char sign : text) {
        if (sign == '\\')
            page += "\\e";
        else if (sign == '-')
            page += "\\-";
        else if ((sign == '.' || sign == '\'') && page.empty())
            page += std::string("\\&") + sign;
        else
            page += sign;
    }
    return page;
}

std::string upper(std::string text) {
    std::ranges::transform(text, text.begin(),
                           [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
    return text;
}

/// The word that stands for an option's value: its own name, since CLI11 knows but TEXT and INT.
std::string valueOf(const CLI::Option& option) {
    return option.get_expected_max() == 0 ? "" : upper(option.get_lnames().front());
}

std::string itemOf(const CLI::Option& option) {
    const bool positional = option.get_positional();
    std::string item = ".TP\n";
    if (positional) {
        item += ".I " + asText(option.get_name()) + "\n";
    } else {
        std::vector<std::string> names;
        for (const std::string& name : option.get_snames())
            names.push_back("\\fB" + asText("-" + name) + "\\fR");
        for (const std::string& name : option.get_lnames())
            names.push_back("\\fB" + asText("--" + name) + "\\fR");
        item += base::joined(names);
        if (const std::string value = valueOf(option); !value.empty())
            item += " \\fI" + asText(value) + "\\fR";
        item += "\n";
    }
    std::string what = asText(base::capitalised(option.get_description()));
    if (!option.get_default_str().empty()) what += " (" + asText(option.get_default_str()) + ")";
    return item + what + (what.ends_with('.') ? "" : ".") + "\n";
}

/// `after`: what has been said of the program itself and need not be said again.
std::string itemsOf(const CLI::App& command, const std::vector<std::string>& after = {}) {
    std::string items;
    for (const CLI::Option* option : optionsOf(command))
        if (std::ranges::find(after, option->get_name()) == after.end()) items += itemOf(*option);
    return items;
}

using Words = std::pair<const char*, std::vector<std::string>>;

/// The options whose values are among a few words.
std::vector<Words> wordsOfOptions() {
    std::vector<std::string> stages;
    for (std::size_t i = 0; i <= design::kRouteLength; ++i)
        stages.push_back(design::name(static_cast<design::Stage>(i)));
    return {{"--stage", stages},
            {"--view", viewNames()},
            {"--studio", studioNames()},
            {"--paper", {"a4", "a5", "letter"}},
            {"--unit", {"mm", "cm", "m", "in"}},
            {"--at", {"nominal", "worst"}}};
}

}  // namespace

std::string manPage(const CLI::App& program, const std::string& version, const std::string& date) {
    std::string page =
        ".TH BANDWRIGHT 1 " + date + " \"" + version +
        "\"\n"
        ".SH NAME\n"
        "bandwright \\- rings turned, filled and set, judged before any metal is cut\n"
        ".SH SYNOPSIS\n"
        ".B bandwright\n.RI [ OPTIONS ]\n.RI [ FILE ]\n.br\n"
        ".B bandwright\n.I COMMAND\n.RI [ OPTIONS ]\n.IR FILE ...\n"
        ".SH DESCRIPTION\n"
        "For the workshop of one person that makes finger rings to order on a lathe and a small mill. "
        "A design is a file NAME.ring.json. Without a command it is opened in a window; the commands "
        "do the same work without a display. Lengths are in millimetres.\n"
        ".SH OPTIONS\n" +
        itemsOf(program) + ".SH COMMANDS\n";
    for (const CLI::App* command : commandsOf(program)) {
        const std::string what = command->get_description();
        page += ".SS bandwright " + asText(command->get_name()) + "\n" + asText(what) +
                (what.ends_with('.') ? "" : ".") + "\n" + itemsOf(*command, {"--help", "--version"});
    }
    return page +
           ".SH EXIT STATUS\n"
           ".TP\n0\nNothing is no\\-go.\n"
           ".TP\n1\nSomething is no\\-go.\n"
           ".TP\n2\nThe file or the call is wrong, or the machine lacks something. One sentence says where, "
           "what was "
           "found and what is allowed; nothing is written.\n"
           ".TP\n3\nBandwright itself is at fault; the last line says what to report.\n"
           ".TP\n130\nStopped by the person.\n"
           ".SH FILES\n"
           ".TP\n.I NAME.ring.json\nA design, in JSON.\n"
           ".TP\n.I ~/.local/state/bandwright\nThe window's settings and work that is in no other file yet; "
           "$XDG_STATE_HOME/bandwright where that is set.\n"
           ".SH EXAMPLES\n"
           ".TP\nbandwright check harbour.ring.json\nThe verdict and every gauge.\n"
           ".TP\nbandwright export harbour.ring.json \\-o harbour.stl\nA model for a caster or a printer.\n"
           ".TP\nbandwright sheet harbour.ring.json \\-o harbour.pdf\nThe work at the bench on paper.\n"
           ".SH CAUTIONS\n"
           "A verdict is about the ring and not about the work. Lathes, dust, acids, lasers and adhesives "
           "hurt; "
           "follow the local rules, the makers' sheets and who is licensed for the work. A ring of a hard "
           "metal may be "
           "hard to cut off a finger: the client's card says how.\n";
}

std::string bashCompletion(const CLI::App& program) {
    const auto optionNames = [](const CLI::App& command) {
        std::vector<std::string> names;
        for (const CLI::Option* option : optionsOf(command))
            for (const std::string& name : option->get_lnames())
                names.push_back("--" + name);
        return base::joined(names, " ");
    };
    std::vector<std::string> commands;
    std::string cases;
    for (const CLI::App* command : commandsOf(program)) {
        commands.push_back(command->get_name());
        cases += "        " + command->get_name() + ") options='" + optionNames(*command) + "' ;;\n";
    }
    std::string values;
    for (const auto& [option, words] : wordsOfOptions())
        values += std::string("        ") + option + ") words='" + base::joined(words, " ") + "' ;;\n";
    return "# bash completion for bandwright\n"
           "_bandwright() {\n"
           "    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]} "
           "command=${COMP_WORDS[1]}\n"
           "    local commands='" +
           base::joined(commands, " ") +
           "'\n"
           "    local options words=\n"
           "    case $command in\n" +
           cases + "        *) options='" + optionNames(program) +
           "' ;;\n"
           "    esac\n"
           "    case $before in\n" +
           values +
           "    esac\n"
           "    COMPREPLY=()\n"
           "    if [[ -n $words ]]; then\n"
           "        mapfile -t COMPREPLY < <(compgen -W \"$words\" -- \"$word\")\n"
           "    elif [[ $word == -* ]]; then\n"
           "        mapfile -t COMPREPLY < <(compgen -W \"$options\" -- \"$word\")\n"
           "    else\n"
           "        compopt -o filenames 2>/dev/null\n"
           "        mapfile -t COMPREPLY < <(\n"
           "            ((COMP_CWORD > 1)) || compgen -W \"$commands\" -- \"$word\"\n"
           "            case $before in\n"
           "                -*) compgen -f -- \"$word\" ;;\n"
           "                *)\n"
           "                    compgen -d -- \"$word\"\n"
           "                    for kind in ring.json pdf stl ply obj; do\n"
           "                        compgen -f -X \"!*.$kind\" -- \"$word\"\n"
           "                    done\n"
           "                    ;;\n"
           "            esac\n"
           "        )\n"
           "    fi\n"
           "}\n"
           "complete -F _bandwright bandwright\n";
}

}  // namespace bandwright::app
