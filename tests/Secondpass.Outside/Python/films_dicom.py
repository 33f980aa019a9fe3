"""DICOM films by pydicom and dcmtk; stored values read back by pydicom, pictures on a screen by dcm2pnm.

Beside film_files' entries: "shown": a file of bytes, the film as dcm2pnm shows it with the file's first window, or from
its smallest to its greatest value; "meaning" and "spacing": what DICOM PS3.3, 10.7.1 says of the file's scale; "subject":
name, number, birth date, day and teeth.
"""
import subprocess

import numpy as np
import pydicom
from PIL import Image
from pydicom.dataset import Dataset
from pydicom.pixel_data_handlers.util import apply_color_lut, convert_color_space
from pydicom.sequence import Sequence
from pydicom.sr._cid_dict import cid_concepts
from pydicom.sr._concepts_dict import concepts
from pydicom.sr._snomed_dict import mapping
from pydicom.uid import ExplicitVRLittleEndian, ImplicitVRLittleEndian

from dicom_files import INTRA_ORAL, SECONDARY, add_grey, kept, shown, signed, table, write
from film_files import add, add_refused, colours, done, film, luma, path

grey12 = film(greatest=4095)

# Depth, sign, both ways to name what is white, both uncompressed little endian syntaxes.
for syntax, word in ((ExplicitVRLittleEndian, "explicit"), (ImplicitVRLittleEndian, "implicit")):
    for photometric in ("MONOCHROME1", "MONOCHROME2"):
        for bits, allocated in ((8, 8), (8, 16), (10, 16), (12, 16), (16, 16)):
            values = film(greatest=2**bits - 1)
            write(f"{word}-{photometric}-{bits}in{allocated}.dcm", values, bits, allocated, syntax, photometric=photometric)
            add_grey(f"{word}-{photometric}-{bits}in{allocated}.dcm")
        for bits in (8, 12, 16):
            name = f"{word}-{photometric}-signed{bits}.dcm"
            write(name, signed(film(greatest=2**bits - 1), bits), bits, 8 if bits == 8 else 16, syntax, photometric=photometric)
            add_grey(name)

# Rescale and window, rising and falling. Whole slopes, because dcm2pnm rounds the output of a rescale to whole numbers.
for number, (slope, intercept, centre, width, photometric) in enumerate((
        (1, 0, 2000, 1500, "MONOCHROME2"), (2, -1000, 3000, 4000, "MONOCHROME2"), (4, 100, 9000, 6000, "MONOCHROME2"),
        (1, 0, 2000, 1500, "MONOCHROME1"), (8, -8, 13000, 9333, "MONOCHROME1"), (-1, 4095, 2000, 1500, "MONOCHROME2"),
        (-2, 0, -4000, 3000, "MONOCHROME1"))):
    name = f"rescale{number}.dcm"
    write(name, grey12, photometric=photometric, RescaleSlope=slope, RescaleIntercept=intercept, RescaleType="US",
          WindowCenter=centre, WindowWidth=width)
    add_grey(name)
write("window-signed.dcm", signed(grey12, 12), WindowCenter=-100, WindowWidth=1500)
add_grey("window-signed.dcm")
write("window-several.dcm", grey12, WindowCenter=[1500, 2500], WindowWidth=[1001, 500])
add_grey("window-several.dcm")

# Tables: of the modality, rising, falling and beginning below zero; of the screen, straight, so that a window says the same.
curve = np.round(65535 * (np.linspace(0, 1, 4096) ** 0.5)).astype(int)
write("table-rising.dcm", grey12, ModalityLUTSequence=table(0, curve, 16))
write("table-falling.dcm", grey12, ModalityLUTSequence=table(0, curve[::-1] >> 4, 12))
write("table-short.dcm", grey12, ModalityLUTSequence=table(1000, np.arange(2000) * 2, 12))
write("table-dark-is-large.dcm", grey12, ModalityLUTSequence=table(0, curve, 16), photometric="MONOCHROME1")
write("table-signed.dcm", signed(grey12, 12), ModalityLUTSequence=table(-2048, curve >> 4, 12, "SS"))
write("table-window.dcm", grey12, ModalityLUTSequence=table(0, curve, 16), WindowCenter=40000, WindowWidth=20001)
write("table-8-bits.dcm", film(), 8, 8, ModalityLUTSequence=table(0, np.arange(256) * 16, 12))
for name in ("rising", "falling", "short", "dark-is-large", "signed", "window", "8-bits"):
    add_grey(f"table-{name}.dcm")
straight = np.round(np.linspace(0, 65535, 1501)).astype(int)
for photometric in ("MONOCHROME1", "MONOCHROME2"):
    write(f"shown-table-{photometric}.dcm", grey12, photometric=photometric, VOILUTSequence=table(1200, straight, 16))
    add_grey(f"shown-table-{photometric}.dcm")
write("shown-table-signed.dcm", signed(grey12, 12), VOILUTSequence=table(-700, straight, 16, "SS"))
write("shown-table-rescaled.dcm", grey12, RescaleSlope=2, RescaleIntercept=-1000, RescaleType="US", VOILUTSequence=table(800, np.round(np.linspace(0, 65535, 3001)).astype(int), 16, "SS"))
write("shown-both.dcm", grey12, ModalityLUTSequence=table(0, curve, 16), VOILUTSequence=table(20000, np.round(np.linspace(0, 65535, 30001)).astype(int), 16))
for name in ("shown-table-signed.dcm", "shown-table-rescaled.dcm", "shown-both.dcm"):
    add_grey(name)

# Which end is light: kind and presentation shape, agreeing and not.
for photometric in ("MONOCHROME1", "MONOCHROME2"):
    for shape in ("IDENTITY", "INVERSE"):
        name = f"shape-{photometric}-{shape}.dcm"
        write(name, grey12, photometric=photometric, PresentationLUTShape=shape, WindowCenter=2000, WindowWidth=1500)
        add_grey(name)

# Every class that films come as (PS3.4, table B.5-1): intra-oral, digital, computed radiography, secondary capture.
for number, sop in enumerate((
        INTRA_ORAL, "1.2.840.10008.5.1.4.1.1.1.3.1", "1.2.840.10008.5.1.4.1.1.1.1", "1.2.840.10008.5.1.4.1.1.1.1.1", "1.2.840.10008.5.1.4.1.1.1",
        SECONDARY, "1.2.840.10008.5.1.4.1.1.7.2", "1.2.840.10008.5.1.4.1.1.7.3")):
    elements = dict(PresentationIntentType="FOR PROCESSING" if sop.endswith((".3.1", ".1.1.1.1")) else "FOR PRESENTATION")
    bits = 8 if sop.endswith("7.2") else 12
    write(f"class{number}.dcm", film(greatest=2**bits - 1), bits, 8 if bits == 8 else 16, sop=sop, NumberOfFrames=1, **elements)
    add_grey(f"class{number}.dcm")


# Whom and what it shows: character sets by pydicom, tooth codes of PS3.16 CID 4018 and 4019 by pydicom's own tables.
def code(value, scheme, meaning):
    item = Dataset()
    item.CodeValue, item.CodingSchemeDesignator, item.CodeMeaning = value, scheme, meaning
    return item


def add_subject(name, teeth="", **elements):
    write(name, grey12, **elements)
    data = pydicom.dcmread(path(name))
    data.decode()
    person = data.PatientName
    given = " ".join(part for part in (person.given_name, person.middle_name) if part)
    values, greatest = kept(name)
    words = [f"{person.family_name}, {given}" if given else person.family_name, data.PatientID, data.get("PatientBirthDate", ""),
             data.get("AcquisitionDate", "") or data.get("StudyDate", ""), teeth]
    add(name, values, greatest, "pydicom", subject="|".join(words))


for number, (character_set, person) in enumerate((
        ("ISO_IR 100", "Erfundén^Jürgen^Q^Dr"), ("ISO_IR 192", "Ωμέγα^Żaneta=虚構^名"), ("ISO_IR 144", "Выдуман^Иван"), ("ISO_IR 126", "Άλφα^Βήτα"),
        ("ISO_IR 101", "Wymyślony^Łukasz"), ("ISO_IR 148", "Uydurma^Işık"), ("GB18030", "Xu^Gou=虚构^名"), ("ISO_IR 6", "Invented"))):
    add_subject(f"person{number}.dcm", SpecificCharacterSet=character_set, PatientName=person, PatientID="INVENTED-7",
                PatientBirthDate="19010203", StudyDate="20260203")
add_subject("dates.dcm", StudyDate="20260203", AcquisitionDate="20260204")
names = {
    "Maxillary Right": (1, 5), "Maxillary Left": (2, 6), "Mandibular Left": (3, 7), "Mandibular Right": (4, 8)}
permanent = ["Central Incisor", "Lateral Incisor", "Canine", "First Premolar", "Second Premolar", "First Molar", "Second Molar", "Third Molar"]
deciduous = ["Central Incisor", "Lateral Incisor", "Canine", "First Molar", "Second Molar"]


def tooth_of(meaning):
    """The ISO 3950 number behind a meaning such as "Deciduous maxillary left first molar tooth"."""
    words = meaning.title().replace("Left Lateral Tooth", "Left Lateral Incisor Tooth").removesuffix(" Tooth")
    is_deciduous = words.startswith("Deciduous ")
    words = words.removeprefix("Deciduous ")
    side = next(side for side in names if words.startswith(side + " "))
    kinds = deciduous if is_deciduous else permanent
    return 10 * names[side][is_deciduous] + 1 + kinds.index(words.removeprefix(side + " "))


for group in (4018, 4019):
    items, numbers = [], []
    for keyword in cid_concepts[group]["SCT"]:
        value, (meaning, _) = next((value, entry) for value, entry in concepts["SCT"][keyword].items() if group in entry[1])
        items += [code(value, "SCT", meaning), code(mapping["SCT"][value], "SRT", meaning)]
        numbers.append(str(tooth_of(meaning)))
    region = code("70925003", "SCT", "Maxilla")
    add_subject(f"teeth{group}.dcm", ",".join(numbers), AnatomicRegionSequence=Sequence([region]), PrimaryAnatomicStructureSequence=Sequence(items))
    # The same with lengths that are not stated, and in the other ways to write elements.
    for options in (["+te", "-e"], ["+ti", "-e"], ["+tb"], ["+td"]):
        name = f"teeth{group}{''.join(options)}.dcm"
        subprocess.run(["dcmconv", *options, path(f"teeth{group}.dcm"), path(name)], check=True)
        values, greatest = kept(f"teeth{group}.dcm")
        add(name, values, greatest, "pydicom", subject=f"Invented, Name|INVENTED-1|||{','.join(numbers)}")
region = code("661005", "SCT", "Jaw region")
region.AnatomicRegionModifierSequence = Sequence([code("699507006", "SCT", "First molar region")])
add_subject("teeth-iso.dcm", "46,47", AnatomicRegionSequence=Sequence([region]),
            PrimaryAnatomicStructureSequence=Sequence([code("46", "ISO3950", "any"), code("47", "ISO 3950-2010", "any"), code("46", "ISO3950", "any")]))

# The value need not begin at bit 0.
data = write("high-bit.dcm", (grey12 << 4).astype(np.uint16), bits=12)
data.HighBit = 15
data.save_as(path("high-bit.dcm"), write_like_original=False)
signed_high = write("high-bit-signed.dcm", (signed(film(greatest=1023), 10).astype(np.int32) << 4).astype(np.int16), bits=10)
signed_high.HighBit = 13
signed_high.save_as(path("high-bit-signed.dcm"), write_like_original=False)
add("high-bit-signed.dcm", film(greatest=1023), 1023, "the values that went in")
add("high-bit.dcm", pydicom.dcmread(path("high-bit.dcm")).pixel_array >> 4, 4095, "pydicom", shown=shown("high-bit.dcm", False))

# Sequences of defined and undefined length, one in the other, private ones among them.
inner = Dataset()
inner.CodeValue, inner.CodingSchemeDesignator, inner.CodeMeaning = "16", "ISO3950", "tooth"
outer = Dataset()
outer.PrimaryAnatomicStructureSequence = Sequence([inner, inner])
outer.Rows = 7
for undefined in (False, True):
    for syntax, word in ((ExplicitVRLittleEndian, "explicit"), (ImplicitVRLittleEndian, "implicit")):
        name = f"sequences-{word}-{undefined}.dcm"
        sequence = Sequence([outer, outer])
        data = write(name, grey12, syntax=syntax)
        data.AnatomicRegionSequence = sequence
        data.add_new(0x00090010, "LO", "INVENTED")
        data.add_new(0x00091001, "SQ", Sequence([outer]))
        for tag in (0x00082218, 0x00091001):
            data[tag].is_undefined_length = undefined
            for item in data[tag].value:
                item.is_undefined_length_sequence_item = undefined
                item[0x00082228].is_undefined_length = undefined
        data.save_as(path(name), write_like_original=False)
        add_grey(name)

# Scale: PS3.3, 10.7.1.1 and 10.7.1.2; the estimated magnification of the X-ray acquisition divides what is known at the detector only.
for number, (elements, meaning, spacing) in enumerate((
        (dict(), None, None),
        (dict(ImagerPixelSpacing=[0.03, 0.03]), "AtDetector", 0.03),
        (dict(ImagerPixelSpacing=[0.03, 0.03], PixelSpacing=[0.03, 0.03]), "AtDetector", 0.03),
        (dict(ImagerPixelSpacing=[0.03, 0.03], PixelSpacing=[0.028, 0.028]), "AtObject", 0.028),
        (dict(ImagerPixelSpacing=[0.03, 0.03], PixelSpacing=[0.028, 0.028], PixelSpacingCalibrationType="FIDUCIAL",
              PixelSpacingCalibrationDescription="invented"), "AtObject", 0.028),
        (dict(PixelSpacing=[0.028, 0.028], PixelSpacingCalibrationType="GEOMETRY", PixelSpacingCalibrationDescription="invented"), "AtObject", 0.028),
        (dict(PixelSpacing=[0.028, 0.028]), "Unstated", 0.028),
        (dict(ImagerPixelSpacing=[0.033, 0.033], EstimatedRadiographicMagnificationFactor=1.1), "AtObject", 0.03),
        (dict(ImagerPixelSpacing=[0.033, 0.033], EstimatedRadiographicMagnificationFactor=1), "AtDetector", 0.033),
        (dict(NominalScannedPixelSpacing=[0.05, 0.05]), "AtDetector", 0.05))):
    name = f"spacing{number}.dcm"
    write(name, grey12, sop=INTRA_ORAL if "NominalScannedPixelSpacing" not in elements else SECONDARY, **elements)
    add_grey(name, meaning, spacing)

# Colour secondary captures, by pixel and by plane.
rgb8 = colours().astype(np.uint8)
write("rgb-by-pixel.dcm", rgb8, 8, 8, sop=SECONDARY, photometric="RGB", PlanarConfiguration=0)
add("rgb-by-pixel.dcm", luma(pydicom.dcmread(path("rgb-by-pixel.dcm")).pixel_array), 255, "pydicom")
write("rgb-by-plane.dcm", np.ascontiguousarray(rgb8.transpose(2, 0, 1)), 8, 8, sop=SECONDARY, photometric="RGB", PlanarConfiguration=1)
add("rgb-by-plane.dcm", luma(pydicom.dcmread(path("rgb-by-plane.dcm")).pixel_array), 255, "pydicom")

# Tables of the screen that are curves; dcm2pnm shows them by the whole range of their bits.
s_curve = 1 / (1 + np.exp(-8 * (np.linspace(0, 1, 2501) - 0.5)))
for word, outputs, bits in (("s16", s_curve * 65535, 16), ("s12", s_curve * 4095, 12), ("falling", (1 - s_curve) * 65535, 16), ("part", 9000 + s_curve * 30000, 16)):
    for photometric in ("MONOCHROME1", "MONOCHROME2"):
        name = f"shown-curve-{word}-{photometric}.dcm"
        write(name, grey12, photometric=photometric, VOILUTSequence=table(800, np.round(outputs).astype(int), bits))
        add_grey(name)
curve16 = np.round(s_curve * 65535).astype(int)
write("shown-curve-signed.dcm", signed(grey12, 12), VOILUTSequence=table(-1200, curve16, 16, "SS"))
write("shown-curve-rescaled.dcm", grey12, RescaleSlope=2, RescaleIntercept=-1000, RescaleType="US", VOILUTSequence=table(1800, curve16, 16, "SS"))
write("shown-curve-turned.dcm", grey12, RescaleSlope=-1, RescaleIntercept=4095, RescaleType="US", VOILUTSequence=table(800, curve16, 16, "SS"))
write("shown-curve-behind-table.dcm", grey12, ModalityLUTSequence=table(0, curve, 16), VOILUTSequence=table(20000, np.round(np.linspace(0, 255, 30001) ** 2).astype(int), 16))
for name in ("shown-curve-signed.dcm", "shown-curve-rescaled.dcm", "shown-curve-turned.dcm", "shown-curve-behind-table.dcm"):
    add_grey(name)
write("sigmoid.dcm", grey12, WindowCenter=2000, WindowWidth=1500, VOILUTFunction="SIGMOID")
add_grey("sigmoid.dcm")

# Palettes of 8 and 16 bits, longer and shorter than the numbers need, beginning above and below zero; unpacked by pydicom.
rng = np.random.default_rng(7)


def palette(first, count, bits, one_byte=False):
    elements = {}
    for colour in ("Red", "Green", "Blue"):
        entries = rng.integers(0, 2**bits, count)
        elements[colour + "PaletteColorLookupTableDescriptor"] = [count % 65536, first, bits]
        elements[colour + "PaletteColorLookupTableData"] = entries.astype("u1" if one_byte else "<u2").tobytes()
    return elements


def add_palette(name):
    data = pydicom.dcmread(path(name))
    add(name, luma(apply_color_lut(data.pixel_array, data)), 2 ** data.RedPaletteColorLookupTableDescriptor[2] - 1, "pydicom")


for syntax, word in ((ExplicitVRLittleEndian, "explicit"), (ImplicitVRLittleEndian, "implicit")):
    for name, values, bits, allocated, tables in (
            ("256of8", film(), 8, 8, palette(0, 256, 8, one_byte=True)), ("256of16", film(), 8, 8, palette(0, 256, 16)),
            ("short", film(), 8, 8, palette(40, 100, 16)), ("65536of16", film(greatest=65535), 16, 16, palette(0, 65536, 16)),
            ("12in16", grey12, 12, 16, palette(0, 4096, 16))):
        name = f"palette-{name}-{word}.dcm"
        write(name, values, bits, allocated, syntax, sop=SECONDARY, photometric="PALETTE COLOR", **tables)
        add_palette(name)
for name in ("palette-256of8-explicit", "palette-256of16-explicit"):
    for command, word in ((["dcmconv", "+tb"], "big-endian"), (["dcmcrle"], "runs")):
        subprocess.run([*command, path(name + ".dcm"), path(f"{name}-{word}.dcm")], check=True)
        data = pydicom.dcmread(path(name + ".dcm"))
        add(f"{name}-{word}.dcm", luma(apply_color_lut(data.pixel_array, data)), 2 ** data.RedPaletteColorLookupTableDescriptor[2] - 1, "dcmtk as the writer, pydicom")
write("palette-segments.dcm", film(), 8, 8, sop=SECONDARY, photometric="PALETTE COLOR")
data = pydicom.dcmread(path("palette-segments.dcm"))
for colour in ("Red", "Green", "Blue"):
    data.add_new(f"{colour}PaletteColorLookupTableDescriptor", "US", [256, 0, 16])
    setattr(data, f"Segmented{colour}PaletteColorLookupTableData", np.asarray([0, 1, 0, 1, 255, 65535], "<u2").tobytes())
data.save_as(path("palette-segments.dcm"), write_like_original=False)
add_refused("palette-segments.dcm", "This DICOM file uses a palette of colours written in segments, which is not read here.", "pydicom")

# Two pixels beside each other share their colour differences; unpacked by pydicom, which repeats them, turned into red, green and blue by T.871.
shared = np.empty((96, 130 * 2), np.uint8)
ybr = colours(130, 96).astype(np.uint8)
shared[:, 0::4], shared[:, 1::4] = ybr[:, 0::2, 0], ybr[:, 1::2, 0]
shared[:, 2::4], shared[:, 3::4] = ybr[:, 0::2, 1], ybr[:, 0::2, 2]
for syntax, word in ((ExplicitVRLittleEndian, "explicit"), (ImplicitVRLittleEndian, "implicit")):
    name = f"ybr-full-422-{word}.dcm"
    data = write(name, ybr, 8, 8, syntax, sop=SECONDARY, photometric="YBR_FULL_422", PlanarConfiguration=0)
    data.PixelData = shared.tobytes()
    data.save_as(path(name), write_like_original=False)
    by_pixel = pydicom.dcmread(path(name)).pixel_array
    add(name, luma(convert_color_space(by_pixel, "YBR_FULL", "RGB")), 255, "pydicom")
subprocess.run(["dcmconv", "+tb", path("ybr-full-422-explicit.dcm"), path("ybr-full-422-big-endian.dcm")], check=True)
add("ybr-full-422-big-endian.dcm", luma(convert_color_space(by_pixel, "YBR_FULL", "RGB")), 255, "dcmtk as the writer, pydicom")

# dcmtk as the writer.
write("plain.dcm", grey12, ImagerPixelSpacing=[0.03, 0.03], WindowCenter=2000, WindowWidth=1500)
for options, word in (
        (["+ti"], "implicit"), (["+te"], "explicit"), (["+te", "-e"], "undefined-length"), (["+ti", "-e"], "implicit-undefined-length")):
    name = f"dcmconv-{word}.dcm"
    subprocess.run(["dcmconv", *options, path("sequences-explicit-False.dcm"), path(name)], check=True)
    add_grey(name)
for option, word in (("+ti", "implicit"), ("+te", "explicit")):
    name = f"dcmconv-no-header-{word}.dcm"
    subprocess.run(["dcmconv", "-F", option, path("plain.dcm"), path(name)], check=True)
    values, greatest = kept("plain.dcm")
    add(name, values, greatest, "pydicom", meaning="AtDetector", spacing=0.03)
Image.fromarray(rgb8).save(path("rgb.bmp"))
subprocess.run(["img2dcm", "-q", "-i", "BMP", path("rgb.bmp"), path("img2dcm-bmp.dcm")], check=True)
add("img2dcm-bmp.dcm", luma(np.asarray(Image.open(path("rgb.bmp")))), 255, "Pillow")

for command, name, encoding in (
        (["dcmcjpls", "+el"], "jpegls.dcm", "JPEG-LS lossless” (transfer syntax 1.2.840.10008.1.2.4.80"),
        (["dcmcjpls", "+en"], "jpegls-near.dcm", "JPEG-LS near-lossless” (transfer syntax 1.2.840.10008.1.2.4.81")):
    subprocess.run([*command, path("plain.dcm"), path(name)], check=True)
    add_refused(name, f"This DICOM file uses the encoding “{encoding}), which is not read here.", "dcmtk")

write("frames.dcm", np.vstack([grey12, grey12]), NumberOfFrames=2)
data = pydicom.dcmread(path("frames.dcm"))
data.Rows = data.Rows // 2
data.save_as(path("frames.dcm"))
add_refused("frames.dcm", "This DICOM file holds 2 pictures (frames); a film is one picture.", "pydicom")

data = pydicom.dcmread(path("plain.dcm"))
del data.PixelData
data.save_as(path("no-pixels.dcm"))
add_refused("no-pixels.dcm", "This DICOM file holds no picture.", "pydicom")

done()
