#pragma once

#include <qpdf/qpdf-c.h>

#include <memory>
#include <string>
#include <string_view>

/// The objects of a PDF file, by the C interface of qpdf. Private to the room.
namespace bandwright::paper {

struct QpdfEnd {
    /// An error that nobody asked for would be written to stderr.
    void operator()(_qpdf_data* qpdf) const {
        if (qpdf_has_error(qpdf) == QPDF_TRUE) qpdf_get_error(qpdf);
        qpdf_cleanup(&qpdf);
    }
};

/// One object; what is not there is null, and so is what is asked of it.
class PdfObject {
  public:
    PdfObject(qpdf_data file, qpdf_oh object) : file_(file), object_(object) {}

    bool isArray() const { return qpdf_oh_is_array(file_, object_) == QPDF_TRUE; }
    bool isDictionary() const { return qpdf_oh_is_dictionary(file_, object_) == QPDF_TRUE; }
    bool isStream() const { return qpdf_oh_is_stream(file_, object_) == QPDF_TRUE; }
    bool isName(std::string_view name) const;

    PdfObject operator[](const char* key) const {
        return {file_, isDictionary() ? qpdf_oh_get_key(file_, object_, key) : qpdf_oh_new_null(file_)};
    }
    PdfObject operator[](int place) const { return {file_, qpdf_oh_get_array_item(file_, object_, place)}; }
    int items() const { return isArray() ? qpdf_oh_get_array_n_items(file_, object_) : 0; }

    /// UTF-8; empty when it is no string.
    std::string text() const;
    /// What a stream holds, decoded; throws runtime_error where that cannot be had.
    std::string bytes() const;

    void set(const char* key, const PdfObject& value) const {
        qpdf_oh_replace_key(file_, object_, key, value.object_);
    }
    void setText(const char* key, const std::string& utf8) const {
        qpdf_oh_replace_key(file_, object_, key, qpdf_oh_new_unicode_string(file_, utf8.c_str()));
    }
    /// The dictionary of a stream.
    PdfObject dictionary() const { return {file_, qpdf_oh_get_dict(file_, object_)}; }
    void append(const PdfObject& item) const { qpdf_oh_append_item(file_, object_, item.object_); }

  private:
    qpdf_data file_;
    qpdf_oh object_;
};

/// A PDF file in memory.
class QpdfDocument {
  public:
    /// Throws runtime_error where the bytes are no PDF. They must live as long as this does.
    explicit QpdfDocument(std::string_view bytes);

    PdfObject catalogue() const { return {file_.get(), qpdf_get_root(file_.get())}; }
    /// An object written as in a PDF file: "<< /Marked true >>".
    PdfObject made(const std::string& text) const {
        return {file_.get(), qpdf_oh_parse(file_.get(), text.c_str())};
    }
    /// The same as an object that several others may have.
    PdfObject shared(const std::string& text) const {
        return {file_.get(),
                qpdf_make_indirect_object(file_.get(), qpdf_oh_parse(file_.get(), text.c_str()))};
    }
    /// A stream of these bytes.
    PdfObject stream(std::string_view bytes) const;

    /// The whole file; its identifier follows from its bytes.
    std::string written() const;

  private:
    std::unique_ptr<_qpdf_data, QpdfEnd> file_{qpdf_init()};
};

}  // namespace bandwright::paper
