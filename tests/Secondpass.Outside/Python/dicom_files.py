"""What the scripts that write DICOM films share: pydicom as the writer and reader of stored values, dcm2pnm for what is shown."""
import subprocess

import numpy as np
import pydicom
from PIL import Image
from pydicom.dataset import Dataset, FileDataset, FileMetaDataset
from pydicom.pixel_data_handlers.util import apply_modality_lut
from pydicom.sequence import Sequence
from pydicom.uid import ExplicitVRLittleEndian, ImplicitVRLittleEndian, generate_uid

from film_files import add, path

INTRA_ORAL = "1.2.840.10008.5.1.4.1.1.1.3"
PALETTE_DESCRIPTORS = (0x00281101, 0x00281102, 0x00281103)
SECONDARY = "1.2.840.10008.5.1.4.1.1.7"


def signed(values, bits):
    return (values.astype(np.int32) - 2 ** (bits - 1)).astype(np.int8 if bits <= 8 else np.int16)


def write(name, values, bits=12, allocated=16, syntax=ExplicitVRLittleEndian, sop=INTRA_ORAL, photometric="MONOCHROME2", **elements):
    meta = FileMetaDataset()
    meta.MediaStorageSOPClassUID, meta.MediaStorageSOPInstanceUID = sop, generate_uid(entropy_srcs=[name])
    meta.TransferSyntaxUID = syntax
    data = FileDataset(
        path(name), {}, file_meta=meta, preamble=b"\0" * 128, is_little_endian=True, is_implicit_VR=syntax == ImplicitVRLittleEndian)
    data.SOPClassUID, data.SOPInstanceUID = sop, meta.MediaStorageSOPInstanceUID
    data.StudyInstanceUID, data.SeriesInstanceUID = generate_uid(entropy_srcs=["study"]), generate_uid(entropy_srcs=["series"])
    data.PatientName, data.PatientID, data.Modality = "Invented^Name", "INVENTED-1", "IO"
    data.Rows, data.Columns = values.shape[:2] if values.shape[0] != 3 else values.shape[1:]
    data.SamplesPerPixel, data.PhotometricInterpretation = (3 if values.ndim == 3 else 1), photometric
    data.BitsAllocated, data.BitsStored, data.HighBit = allocated, bits, bits - 1
    data.PixelRepresentation = 1 if values.dtype.kind == "i" else 0
    for keyword, value in elements.items():
        setattr(data, keyword, value)
    for tag in PALETTE_DESCRIPTORS:
        if tag in data:
            data[tag].VR = "US"
    kind = ("i" if values.dtype.kind == "i" else "u") + str(allocated // 8)
    data.PixelData = values.astype("<" + kind).tobytes()
    if len(data.PixelData) % 2:
        data.PixelData += b"\0"
    data.save_as(path(name), write_like_original=False)
    return data


def kept(name):
    """What is to be kept of a grey film, from pydicom's stored values and the standard's words.

    A modality table is applied by pydicom. Which end is light: the presentation shape (PS3.3, C.8.11.3), else the kind, and
    a falling rescale line.
    """
    data = pydicom.dcmread(path(name))
    bits, values = data.BitsStored, data.pixel_array.astype(np.int32)
    if "ModalityLUTSequence" in data:
        item = data.ModalityLUTSequence[0]
        count, first, bits = item.LUTDescriptor
        if bits == 16:
            values = apply_modality_lut(data.pixel_array, data).astype(np.int32)
        else:
            # pydicom knows tables of 8 and 16 bits only.
            values = np.frombuffer(item.LUTData, "<u2")[(values - first).clip(0, (count or 65536) - 1)].astype(np.int32)
    elif data.PixelRepresentation == 1:
        values = values + 2 ** (bits - 1)
    larger_is_darker = {"INVERSE": True, "IDENTITY": False}.get(data.get("PresentationLUTShape"), data.PhotometricInterpretation == "MONOCHROME1")
    if larger_is_darker != (float(data.get("RescaleSlope", 1)) < 0):
        values = 2**bits - 1 - values
    return values, 2**bits - 1


def shown(name, has_window, has_table=False):
    window = ["+Wi", "1"] if has_window else ["+Wl", "1"] if has_table else ["+Wm"]
    subprocess.run(["dcm2pnm", "-O", "+op", *window, path(name), path(name + ".pgm")], check=True)
    np.asarray(Image.open(path(name + ".pgm"))).astype(np.uint8).tofile(path(name + ".shown"))
    return name + ".shown"


def add_grey(name, meaning=None, spacing=None, show=True):
    values, greatest = kept(name)
    data = pydicom.dcmread(path(name))
    picture = shown(name, "WindowCenter" in data, "VOILUTSequence" in data) if show else None
    add(name, values, greatest, "pydicom", shown=picture, meaning=meaning, spacing=spacing)


def table(first, outputs, bits, representation="US"):
    """A table of greys as the only item of a sequence."""
    item = Dataset()
    item.add_new(0x00283002, representation, [len(outputs) % 65536, first, bits])
    item.add_new(0x00283006, "OW", np.asarray(outputs).astype("<u2").tobytes())
    return Sequence([item])
