#include "qpdf_document.hpp"

#include <cstdlib>
#include <stdexcept>

namespace bandwright::paper {

namespace {

void requireNoError(qpdf_data file) {
    if (qpdf_has_error(file) == QPDF_FALSE) return;
    throw std::runtime_error(qpdf_get_error_full_text(file, qpdf_get_error(file)));
}

struct Freed {
    void operator()(unsigned char* bytes) const { std::free(bytes); }
};

}  // namespace

bool PdfObject::isName(std::string_view name) const {
    return qpdf_oh_is_name(file_, object_) == QPDF_TRUE && name == qpdf_oh_get_name(file_, object_);
}

std::string PdfObject::text() const {
    const char* utf8 = nullptr;
    std::size_t length = 0;
    if (qpdf_oh_get_value_as_utf8(file_, object_, &utf8, &length) == QPDF_FALSE) return {};
    return {utf8, length};
}

std::string PdfObject::bytes() const {
    unsigned char* data = nullptr;
    std::size_t length = 0;
    QPDF_BOOL decoded = QPDF_FALSE;
    qpdf_oh_get_stream_data(file_, object_, qpdf_dl_generalized, &decoded, &data, &length);
    const std::unique_ptr<unsigned char, Freed> owned(data);
    requireNoError(file_);
    if (decoded == QPDF_FALSE) throw std::runtime_error("a stream that cannot be decoded");
    return {reinterpret_cast<const char*>(data), length};
}

QpdfDocument::QpdfDocument(std::string_view bytes) {
    qpdf_silence_errors(file_.get());
    qpdf_set_suppress_warnings(file_.get(), QPDF_TRUE);
    qpdf_read_memory(file_.get(), "page", bytes.data(), bytes.size(), nullptr);
    requireNoError(file_.get());
}

PdfObject QpdfDocument::stream(std::string_view bytes) const {
    const qpdf_oh made = qpdf_oh_new_stream(file_.get()), none = qpdf_oh_new_null(file_.get());
    qpdf_oh_replace_stream_data(file_.get(), made, reinterpret_cast<const unsigned char*>(bytes.data()),
                                bytes.size(), none, none);
    return {file_.get(), made};
}

std::string QpdfDocument::written() const {
    qpdf_init_write_memory(file_.get());
    qpdf_set_deterministic_ID(file_.get(), QPDF_TRUE);
    qpdf_set_object_stream_mode(file_.get(), qpdf_o_generate);
    qpdf_write(file_.get());
    requireNoError(file_.get());
    return {reinterpret_cast<const char*>(qpdf_get_buffer(file_.get())), qpdf_get_buffer_length(file_.get())};
}

}  // namespace bandwright::paper
