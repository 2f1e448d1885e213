"""The smallest sound XLSX and ODS files, written by hand, so that the reader is tried on files that it did not make."""

from __future__ import annotations

import zipfile
from pathlib import Path
from xml.sax.saxutils import escape

Rows = list[list[str | float]]


def xlsx(path: Path, rows: Rows) -> Path:
    cells = []
    for n, row in enumerate(rows, 1):
        each = [
            f'<c r="{chr(65 + i)}{n}"><v>{v}</v></c>'
            if isinstance(v, (int, float))
            else f'<c r="{chr(65 + i)}{n}" t="inlineStr"><is><t>{escape(v)}</t></is></c>'
            for i, v in enumerate(row)
        ]
        cells.append(f'<row r="{n}">{"".join(each)}</row>')
    main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    rels = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
    package = "http://schemas.openxmlformats.org/package/2006"
    kind = "application/vnd.openxmlformats-officedocument.spreadsheetml"
    with zipfile.ZipFile(path, "w") as file:
        file.writestr(
            "[Content_Types].xml",
            f'<Types xmlns="{package}/content-types"><Default Extension="rels" '
            'ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
            f'<Override PartName="/xl/workbook.xml" ContentType="{kind}.sheet.main+xml"/>'
            f'<Override PartName="/xl/worksheets/sheet1.xml" ContentType="{kind}.worksheet+xml"/></Types>',
        )
        file.writestr(
            "_rels/.rels",
            f'<Relationships xmlns="{package}/relationships"><Relationship Id="r1" Type="{rels}/officeDocument" '
            'Target="xl/workbook.xml"/></Relationships>',
        )
        file.writestr(
            "xl/workbook.xml",
            f'<workbook xmlns="{main}" xmlns:r="{rels}"><sheets><sheet name="Cloth" sheetId="1" r:id="r1"/></sheets></workbook>',
        )
        file.writestr(
            "xl/_rels/workbook.xml.rels",
            f'<Relationships xmlns="{package}/relationships"><Relationship Id="r1" Type="{rels}/worksheet" '
            'Target="worksheets/sheet1.xml"/></Relationships>',
        )
        file.writestr(
            "xl/worksheets/sheet1.xml", f'<worksheet xmlns="{main}"><sheetData>{"".join(cells)}</sheetData></worksheet>'
        )
    return path


def ods(path: Path, rows: Rows) -> Path:
    body = ""
    for row in rows:
        body += "<table:table-row>"
        for v in row:
            if isinstance(v, (int, float)):
                body += f'<table:table-cell office:value-type="float" office:value="{v}"><text:p>{v}</text:p></table:table-cell>'
            elif v:
                body += f'<table:table-cell office:value-type="string"><text:p>{escape(v)}</text:p></table:table-cell>'
            else:
                body += "<table:table-cell/>"
        body += "</table:table-row>"
    names = "urn:oasis:names:tc:opendocument:xmlns"
    with zipfile.ZipFile(path, "w") as file:
        file.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        file.writestr(
            "content.xml",
            f'<office:document-content xmlns:office="{names}:office:1.0" xmlns:table="{names}:table:1.0" '
            f'xmlns:text="{names}:text:1.0"><office:body><office:spreadsheet><table:table table:name="Cloth">{body}'
            "</table:table></office:spreadsheet></office:body></office:document-content>",
        )
        file.writestr(
            "META-INF/manifest.xml",
            f'<manifest:manifest xmlns:manifest="{names}:manifest:1.0"><manifest:file-entry manifest:full-path="/" '
            'manifest:media-type="application/vnd.oasis.opendocument.spreadsheet"/></manifest:manifest>',
        )
    return path
