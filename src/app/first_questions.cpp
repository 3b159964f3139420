#include "app/first_questions.hpp"

#include <imgui.h>

#include <chrono>

namespace bandwright::app {

void FirstQuestions::readOptions(const trade::Catalogue& catalogue) {
    if (!metals_.empty()) return;
    // Only what an ordinary ring is go with: the rest is for who knows why.
    const check::Ordinary ordinary = check::ordinaryMaterials(catalogue);
    for (const std::string& id : ordinary.metals)
        metals_.push_back({id, catalogue.metal(id)->name, {}, swatchOf(*catalogue.metal(id))});
    fillers_.push_back({"", "None", {}});
    for (const std::string& id : ordinary.fillers)
        fillers_.push_back({id, catalogue.filler(id)->name, {}, swatchOf(*catalogue.filler(id))});
    gems_.push_back({"", "None", {}});
    for (const std::string& id : ordinary.gems)
        gems_.push_back({id, catalogue.gem(id)->name, {}, swatchOf(*catalogue.gem(id))});
}

void FirstQuestions::follow(const trade::Catalogue& catalogue) {
    if (coming_.valid()) {
        if (coming_.wait_for(std::chrono::seconds(0)) != std::future_status::ready) return;
        check::Added made = coming_.get();
        if (isCurrent_) answer_ = std::move(made);
    }
    if (isCurrent_) return;
    isCurrent_ = true;
    answer_.reset();
    coming_ =
        std::async(std::launch::async, [wishes = wishes_, catalogue] { return ringFor(wishes, catalogue); });
}

void FirstQuestions::told(const Theme& theme, float width) {
    // One line whatever it says, so that nothing moves under the pointer.
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float line = 2 * theme.body->FontSize;
    if (answer_) {
        verdictMark(*ImGui::GetWindowDrawList(), {at.x + theme.px(6), at.y + theme.px(9)}, theme.px(5),
                    answer_->isGo ? check::Verdict::Go : check::Verdict::NoGo);
        ImGui::SetCursorScreenPos({at.x + theme.px(20), at.y});
    }
    paragraph(*theme.body, width - theme.px(20),
              !answer_ ? "Being worked out..."
              : answer_->isGo
                  ? "Every gauge of this ring is go."
                  : "No such ring was found that is go throughout: try it wider, or another metal.");
    ImGui::SetCursorScreenPos({at.x, at.y + line});
    ImGui::Dummy({0, theme.px(4)});
}

std::optional<design::Design> FirstQuestions::draw(const trade::Catalogue& catalogue, const Theme& theme,
                                                   float width) {
    readOptions(catalogue);
    rows_.begin(theme, width);
    const check::Wishes before = wishes_;
    rows_.ringSize("finger", "Finger", wishes_.finger);
    rows_.choice("metal", "Metal", wishes_.metal, metals_);
    rows_.number("width", "Width", wishes_.width, design::mm(2, 14, 0.5, 2));
    rows_.choice("filler", "Channel with", wishes_.filler, fillers_);
    rows_.choice("gem", "Stone", wishes_.gem, gems_);
    const bool isSame = before.finger == wishes_.finger && before.metal == wishes_.metal &&
                        before.width == wishes_.width && before.filler == wishes_.filler &&
                        before.gem == wishes_.gem;
    if (!isSame) isCurrent_ = false;
    follow(catalogue);
    ImGui::Dummy({0, theme.px(6)});
    told(theme, width);
    ImGui::BeginDisabled(!answer_ || !answer_->isGo || !isCurrent_);
    const bool begins = rows_.button("begin", "Begin with this ring");
    ImGui::EndDisabled();
    ImGui::SameLine();
    const bool isPlain = rows_.button("plain", "A plain ring");
    if (begins) return answer_->design;
    if (isPlain) return design::Design{};
    return std::nullopt;
}

}  // namespace bandwright::app
