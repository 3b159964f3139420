#include <algorithm>
#include <utility>

#include "app/bench.hpp"
#include "base/input_error.hpp"
#include "focus.hpp"
#include "platform/paths.hpp"

/// What the bench does with files: new, open, save, leave, and keeping unsaved work safe.
namespace bandwright::app {

void Bench::open(const std::filesystem::path& file) {
    if (pair_.shown()) {
        pair_.take(file);
        return;
    }
    wantedFile_ = file;
    want(Intent::OpenFile);
}

void Bench::begin() {
    start_.open(settings_.recent, platform::samplesFolder(), session_.catalogue());
}

void Bench::began(StartScreen::Begun begun) {
    wantedFile_ = begun.file;
    if (begun.ring) wantedRing_ = *std::move(begun.ring);
    want(begun.asksForFile    ? Intent::AskOpen
         : begun.file.empty() ? Intent::Begin
         : begun.isSample     ? Intent::BeginSample
                              : Intent::OpenFile);
}

void Bench::close() {
    want(Intent::Leave);
}

void Bench::want(Intent intent) {
    // Text still being typed counts: the next frame takes it in, the one after decides.
    stopTyping();
    intent_ = intent;
    framesToDecision_ = 2;
}

void Bench::decide() {
    if (intent_ == Intent::Save) {
        intent_ = Intent::None;
        save();
    } else if (intent_ == Intent::New) {
        // The ring that is open stays until another is chosen.
        intent_ = Intent::None;
        begin();
    } else if (session_.unsaved()) {
        asksAboutChanges_ = true;
    } else {
        leaveOrAsk();
    }
}

/// Carries out what is wanted of the design, whose changes are settled; leaving waits for those of the
/// workshop.
void Bench::leaveOrAsk() {
    if (intent_ == Intent::Leave && shop_.unsaved())
        asksAboutWorkshop_ = true;
    else
        carryOut();
}

void Bench::carryOut() {
    const Intent intent = std::exchange(intent_, Intent::None);
    switch (intent) {
        case Intent::None:
        case Intent::Save:
        case Intent::New:
            return;
        case Intent::Begin:
            session_.startNew();
            card_.forgetRefusals();
            selected_.reset();
            if (auto sentence = session_.change(std::move(wantedRing_))) message_ = std::move(*sentence);
            return;
        case Intent::BeginSample:
            loadSample();
            return;
        case Intent::AskOpen:
            files_.ask(FilePanel::Purpose::Open,
                       session_.file().empty() ? std::filesystem::path() : session_.file().parent_path(),
                       settings_.recent);
            return;
        case Intent::OpenFile:
            load(wantedFile_);
            return;
        case Intent::Leave:
            forgetKept();
            done_ = true;
            return;
    }
}

void Bench::load(const std::filesystem::path& file, formats::Outside outside) {
    try {
        session_.open(file, outside);
        card_.forgetRefusals();
        selected_.reset();
        message_.clear();
        keptRevision_ = session_.revision();
        rememberFile();
    } catch (const formats::ModelOutside& asked) {
        wantedFile_ = file;
        outsideModel_ = asked.model;
    } catch (const base::InputError& error) {
        message_ = error.what();
    }
}

void Bench::loadSample() {
    try {
        session_.beginWith(wantedFile_);
        card_.forgetRefusals();
        selected_.reset();
        message_.clear();
    } catch (const base::InputError& error) {
        message_ = error.what();
    }
}

void Bench::rememberFile() {
    remember(settings_, session_.file());
    keepSettings();
}

void Bench::write(const std::filesystem::path& file) {
    try {
        session_.save(file);
        message_.clear();
        forgetKept();
        rememberFile();
        leaveOrAsk();
    } catch (const base::InputError& error) {
        intent_ = Intent::None;
        message_ = error.what();
    }
}

void Bench::save() {
    if (session_.file().empty()) {
        askWhereToSave();
    } else {
        write(session_.file());
    }
}

void Bench::askWhereToSave() {
    std::string name = session_.design().title;
    std::ranges::replace_if(
        name, [](unsigned char c) { return c == '/' || c < 0x20; }, '-');
    const std::filesystem::path start =
        session_.file().empty() ? platform::absolutePath(withDesignEnding(name)) : session_.file();
    files_.ask(FilePanel::Purpose::Save, start, {});
}

void Bench::keepSafe() {
    if (folder_.empty() || !hasUnkeptWork()) return;
    keptRevision_ = session_.revision();
    if (!session_.unsaved()) return forgetKept();
    try {
        if (!keptIn_) keptIn_ = newRecoveryPlace(folder_);
        storeRecovery(*keptIn_, session_.file(), session_.recoverableText(), session_.recoverableSteps());
    } catch (const base::InputError& error) {
        message_ = error.what();
    }
}

/// The person has discarded the work, or it is in its own file.
void Bench::forgetKept() {
    if (keptIn_) dropRecovery(*std::exchange(keptIn_, std::nullopt));
}

}  // namespace bandwright::app
