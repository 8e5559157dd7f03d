"""Reads the QR symbols of pictures with zxing-cpp and prints their texts as a JSON list, one list for each picture."""

import json
import sys

import zxingcpp
from PIL import Image

found = []
for name in sys.argv[1:]:
    with Image.open(name) as picture:
        codes = zxingcpp.read_barcodes(picture.convert("L"), formats=zxingcpp.BarcodeFormat.QRCode)
    found.append(sorted(code.text for code in codes))
print(json.dumps(found))
