#include "finish_pdf.hpp"

#include "qpdf_document.hpp"

namespace bandwright::paper {

namespace {

/// Gives the figures of the structure tree their alternatives, in the order in which they are read.
struct Figures {
    const std::vector<std::string>& alternatives;
    std::size_t next = 0;

    void describe(const PdfObject& element) {
        for (int i = 0; i < element.items(); ++i)
            describe(element[i]);
        if (!element.isDictionary()) return;
        if (element["/S"].isName("/Figure") && next < alternatives.size())
            element.setText("/Alt", alternatives[next++]);
        describe(element["/K"]);
    }
};

/// The design as a source of the document, to be found by its name and as an associated file.
void attach(const QpdfDocument& pdf, const Attachment& design) {
    const PdfObject stream = pdf.stream(design.bytes);
    stream.dictionary().set("/Type", pdf.made("/EmbeddedFile"));
    stream.dictionary().set("/Subtype", pdf.made("/application#2fjson"));
    stream.dictionary().set("/Params", pdf.made("<< /Size " + std::to_string(design.bytes.size()) + " >>"));
    const PdfObject file = pdf.shared("<< /Type /Filespec /AFRelationship /Source >>");
    for (const char* name : {"/F", "/UF"})
        file.setText(name, design.name);
    file.setText("/Desc", design.description);
    const PdfObject embedded = pdf.made("<< >>");
    embedded.set("/F", stream);
    file.set("/EF", embedded);

    const PdfObject named = pdf.made("<< /EmbeddedFiles << /Names [] >> >>");
    const PdfObject key = pdf.made("<< >>");
    key.setText("/Name", design.name);
    named["/EmbeddedFiles"]["/Names"].append(key["/Name"]);
    named["/EmbeddedFiles"]["/Names"].append(file);
    const PdfObject associated = pdf.made("[]");
    associated.append(file);
    pdf.catalogue().set("/Names", named);
    pdf.catalogue().set("/AF", associated);
}

}  // namespace

std::string finishedPdf(std::string_view bytes, const Document& document,
                        const std::vector<std::string>& alternatives) {
    const QpdfDocument pdf(bytes);
    const PdfObject catalogue = pdf.catalogue();
    catalogue.setText("/Lang", document.language);
    catalogue.set("/MarkInfo", pdf.made("<< /Marked true >>"));
    // Without the wish for no scaling many viewers shrink a page to the printer's margins.
    catalogue.set("/ViewerPreferences", pdf.made("<< /DisplayDocTitle true /PrintScaling /None >>"));
    Figures{alternatives}.describe(catalogue["/StructTreeRoot"]["/K"]);
    if (document.design) attach(pdf, *document.design);
    return pdf.written();
}

}  // namespace bandwright::paper
