"""A plain encoder of JPEG without loss (ITU-T T.81, Annex H), for what dcmtk's own encoder does not write: restart marks, odd depths.

It is only believed where dcmdjpeg decodes its files to the values that went in.
"""
import numpy as np


def encode(values, precision, predictor=1, bits_left_out=0, rows_to_restart=0, interleaved=True):
    """values: height × width, or height × width × channels; each 0 to 2**precision - 1."""
    planes = values[..., None] if values.ndim == 2 else values
    height, width, channels = planes.shape
    coded = planes.astype(np.int64) >> bits_left_out
    differences = np.dstack([
        difference(coded[..., channel], precision - bits_left_out, predictor, rows_to_restart) for channel in range(channels)])

    out = bytearray(b"\xff\xd8")
    out += segment(0xC3, bytes([precision]) + number(height) + number(width) + bytes([channels])
                   + b"".join(bytes([1 + channel, 0x11, 0]) for channel in range(channels)))
    # 17 lengths of a difference, each with a code of five bits.
    out += segment(0xC4, bytes([0]) + bytes([0, 0, 0, 0, 17] + [0] * 11) + bytes(range(17)))
    if rows_to_restart:
        out += segment(0xDD, number(rows_to_restart * width))
    for group in ([range(channels)] if interleaved else [[channel] for channel in range(channels)]):
        out += segment(0xDA, bytes([len(group)]) + b"".join(bytes([1 + channel, 0]) for channel in group) + bytes([predictor, 0, bits_left_out]))
        step = rows_to_restart or height
        for mark, top in enumerate(range(0, height, step)):
            if top:
                out += bytes([0xFF, 0xD0 + (mark - 1) % 8])
            out += pack(differences[top:top + step][..., list(group)].ravel())
    return bytes(out + b"\xff\xd9")


def difference(samples, depth, predictor, rows_to_restart):
    left, above, corner = (np.zeros_like(samples) for _ in range(3))
    left[:, 1:], above[1:], corner[1:, 1:] = samples[:, :-1], samples[:-1], samples[:-1, :-1]
    foretold = {
        1: left, 2: above, 3: corner, 4: left + above - corner, 5: left + ((above - corner) >> 1),
        6: above + ((left - corner) >> 1), 7: (left + above) >> 1}[predictor].copy()
    foretold[:, 0] = above[:, 0]
    for top in range(0, len(samples), rows_to_restart or len(samples)):
        foretold[top] = left[top]
        foretold[top, 0] = 1 << (depth - 1)
    # Modulo 2**16, from -32767 to 32768 (H.1.2.1).
    return (samples - foretold + 32767) % 65536 - 32767


def pack(differences):
    bits = []
    for value in differences:
        value = int(value)
        length = abs(value).bit_length()
        bits.append(format(length, "05b"))
        if 0 < length < 16:
            bits.append(format(value if value > 0 else value + (1 << length) - 1, f"0{length}b"))
    text = "".join(bits)
    text += "1" * (-len(text) % 8)
    return int(text, 2).to_bytes(len(text) // 8, "big").replace(b"\xff", b"\xff\x00") if text else b""


def segment(mark, content):
    return bytes([0xFF, mark]) + number(len(content) + 2) + content


def number(value):
    return value.to_bytes(2, "big")
