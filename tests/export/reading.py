"""What was written, read back by readers that are not ours."""

import io
import xml.etree.ElementTree as ET

SVG = "{http://www.w3.org/2000/svg}"


def read_svg(content):
    return ET.fromstring(content)  # noqa: S314 - written a moment ago by the program itself


def read_dxf(content):
    from ezdxf.filemanagement import read

    return read(io.StringIO(content.decode("utf-8")))


def read_xlsx(content):
    from openpyxl import load_workbook

    return load_workbook(io.BytesIO(content))


def read_png(content):
    from PIL import Image

    return Image.open(io.BytesIO(content))
