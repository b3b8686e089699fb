#!/usr/bin/env python3
"""A second client of the protocol, written from docs/protocol.md alone. Python 3 standard library only.

    second_client.py pair HOST PORT IDENTITY.pem NAME      pairs; prints the digits, then reads yes or no
    second_client.py read HOST PORT IDENTITY.pem PIN N S   reads history up to N records, then live for S seconds
    second_client.py command HOST PORT IDENTITY.pem PIN CABINET   silences a cabinet
    second_client.py prove DEVICE PIN      has the agent at a serial line prove its key

IDENTITY.pem holds a private key and a certificate (openssl req -x509 -newkey ec -pkeyopt ec_paramgen_curve:P-256 ...).
Each command prints one JSON object as its last line. Exit code 0: done, 1: not.
"""

import hashlib
import json
import os
import select
import socket
import ssl
import struct
import sys
import time
import tty

FLAG, ESCAPE, BIT = 0x7E, 0x7D, 0x20
STUFFED = {0x7E, 0x7D, 0x11, 0x13, 0x91, 0x93}
BARE = {0x11, 0x13}


class Ended(Exception):
    """The other side ended the talk, or it came to nothing."""


# Frames: docs/protocol.md, "Frames".

def crc_table():
    table = []
    for n in range(256):
        for _ in range(8):
            n = (n >> 1) ^ (0x82F63B78 if n & 1 else 0)  # 1EDC6F41, reflected
        table.append(n)
    return table


TABLE = crc_table()


def crc32c(octets):
    crc = 0xFFFFFFFF
    for octet in octets:
        crc = (crc >> 8) ^ TABLE[(crc ^ octet) & 0xFF]
    return crc ^ 0xFFFFFFFF


def frame(payload):
    out = bytearray([FLAG])
    for octet in payload + struct.pack("<I", crc32c(payload)):
        if octet in STUFFED:
            out += bytes([ESCAPE, octet ^ BIT])
        else:
            out.append(octet)
    out.append(FLAG)
    return bytes(out)


class Frames:
    """Octets in, payloads of whole frames out."""

    def __init__(self):
        self.held = None  # before the first flag
        self.escaped = False
        self.discarded = 0

    def feed(self, octets):
        for octet in octets:
            if octet == FLAG:
                held, self.held, escaped, self.escaped = self.held, bytearray(), self.escaped, False
                if held:
                    payload = bytes(held[:-4])
                    if not escaped and payload and held[-4:] == struct.pack("<I", crc32c(payload)):
                        yield payload
                    else:
                        self.discarded += 1
            elif self.held is None or octet in BARE:
                continue
            elif octet == ESCAPE:
                self.escaped = True
            else:
                self.held.append(octet ^ BIT if self.escaped else octet)
                self.escaped = False
                if len(self.held) > 65536 + 4:
                    self.held = None
                    self.discarded += 1


# CBOR, as much as the messages need: RFC 8949.

class Break(Exception):
    """The end of something of indefinite length."""


def decode(octets, at=0):
    head, at = octets[at], at + 1
    major, more = head >> 5, head & 31
    if more == 31 and major == 7:
        raise Break(at)
    value = None
    if more < 24:
        value = more
    elif more <= 27:
        size = 1 << (more - 24)
        raw, at = octets[at:at + size], at + size
        if major == 7 and size > 1:
            return struct.unpack({2: ">e", 4: ">f", 8: ">d"}[size], raw)[0], at
        value = int.from_bytes(raw, "big")
    if major == 0:
        return value, at
    if major == 1:
        return -1 - value, at
    if major in (2, 3):
        if value is None:
            parts = []
            part, at = next_or_break(octets, at)
            while part is not None:
                parts.append(part)
                part, at = next_or_break(octets, at)
            return (b"" if major == 2 else "").join(parts), at
        text = octets[at:at + value]
        return (text if major == 2 else text.decode("utf-8")), at + value
    if major == 4:
        items = []
        while value is None or len(items) < value:
            if value is None and octets[at] == 0xFF:
                return items, at + 1
            item, at = decode(octets, at)
            items.append(item)
        return items, at
    if major == 5:
        entries = {}
        while value is None or len(entries) < value:
            if value is None and octets[at] == 0xFF:
                return entries, at + 1
            key, at = decode(octets, at)
            entries[key], at = decode(octets, at)
        return entries, at
    if major == 6:
        return decode(octets, at)
    return {20: False, 21: True, 22: None}.get(value), at


def next_or_break(octets, at):
    try:
        return decode(octets, at)
    except Break as end:
        return None, end.args[0]


def head(major, value):
    if value < 24:
        return bytes([major << 5 | value])
    for more, form in ((24, ">B"), (25, ">H"), (26, ">I"), (27, ">Q")):
        if value < 1 << (8 << (more - 24)):
            return bytes([major << 5 | more]) + struct.pack(form, value)
    raise ValueError(value)


def encode(value):
    if value is True or value is False:
        return b"\xf5" if value else b"\xf4"
    if isinstance(value, int):
        return head(0, value) if value >= 0 else head(1, -1 - value)
    if isinstance(value, float):
        return b"\xfb" + struct.pack(">d", value)
    if isinstance(value, str):
        text = value.encode("utf-8")
        return head(3, len(text)) + text
    if isinstance(value, list):
        return head(4, len(value)) + b"".join(map(encode, value))
    return head(5, len(value)) + b"".join(encode(k) + encode(v) for k, v in value.items())


# Keys: docs/protocol.md, "Who may talk".

def der(octets, at):
    """Tag, start of the content, and end of the element at that place."""
    length, start = octets[at + 1], at + 2
    if length & 0x80:
        count = length & 0x7F
        length, start = int.from_bytes(octets[start:start + count], "big"), start + count
    return octets[at], start, start + length


def public_key(certificate):
    """The SubjectPublicKeyInfo of a certificate (RFC 5280 s.4.1): the 7th element, the 6th without a version."""
    _, at, _ = der(certificate, 0)
    _, at, _ = der(certificate, at)
    index = 0
    while True:
        tag, _, end = der(certificate, at)
        if tag != 0xA0:
            index += 1
        if index == 6:
            return certificate[at:end]
        at = end


def sha256(*parts):
    return hashlib.sha256(b"".join(parts)).digest()


# ECDSA on P-256, as much as judging a signature needs: FIPS 186-5, s.6.4.2; the curve is that of SP 800-186, s.3.2.1.3.

FIELD = 2**256 - 2**224 + 2**192 + 2**96 - 1
ORDER = 0xFFFFFFFF00000000FFFFFFFFFFFFFFFFBCE6FAADA7179E84F3B9CAC2FC632551
CURVE_B = 0x5AC635D8AA3A93E7B3EBBD55769886BC651D06B0CC53B0F63BCE3C3E27D2604B
BASE = (0x6B17D1F2E12C4247F8BCE6E563A440F277037D812DEB33A0F4A13945D898C296,
        0x4FE342E2FE1A7F9B8EE7EB4A7C0F9E162BCE33576B315ECECBB6406837BF51F5)


def plus(one, two):
    """The sum of two points; None is the point at infinity."""
    if one is None or two is None:
        return one or two
    (x1, y1), (x2, y2) = one, two
    if x1 == x2 and (y1 + y2) % FIELD == 0:
        return None
    if one == two:
        slope = (3 * x1 * x1 - 3) * pow(2 * y1, -1, FIELD) % FIELD
    else:
        slope = (y2 - y1) * pow(x2 - x1, -1, FIELD) % FIELD
    x = (slope * slope - x1 - x2) % FIELD
    return x, (slope * (x1 - x) - y1) % FIELD


def times(factor, point):
    total = None
    while factor:
        if factor & 1:
            total = plus(total, point)
        point, factor = plus(point, point), factor >> 1
    return total


def is_signature(key, signature, octets):
    """Whether it is the signature (RFC 3279 s.2.2.3) over the octets by the holder of the key."""
    x, y = int.from_bytes(key[-64:-32], "big"), int.from_bytes(key[-32:], "big")
    if key[-65] != 4 or (y * y - x * x * x + 3 * x - CURVE_B) % FIELD != 0:
        return False
    _, at, _ = der(signature, 0)
    _, start, end = der(signature, at)
    r = int.from_bytes(signature[start:end], "big")
    _, start, end = der(signature, end)
    s = int.from_bytes(signature[start:end], "big")
    if not (0 < r < ORDER and 0 < s < ORDER):
        return False
    inverse = pow(s, -1, ORDER)
    point = plus(times(int.from_bytes(sha256(octets), "big") * inverse % ORDER, BASE),
                 times(r * inverse % ORDER, (x, y)))
    return point is not None and point[0] % ORDER == r


class Link:
    def __init__(self, host, port, identity, pin=None):
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
        context.minimum_version = ssl.TLSVersion.TLSv1_3
        # No authority, name or date is judged: the pin is, below.
        context.check_hostname = False
        context.verify_mode = ssl.CERT_NONE
        context.load_cert_chain(identity)
        plain = socket.create_connection((host, port), timeout=10)
        self.tls = context.wrap_socket(plain)
        self.key = public_key(self.tls.getpeercert(binary_form=True))
        if pin is not None and "sha256:" + sha256(self.key).hex() != pin:
            raise Ended("another key than the pinned one")
        self.frames = Frames()
        self.inbox = []
        self.sent = time.monotonic()
        try:
            if self.tls.recv(1) != bytes([FLAG]):
                raise Ended("not let in")
        except (OSError, ssl.SSLError) as refused:
            raise Ended("not let in: %s" % refused)
        self.frames.held = bytearray()

    def send(self, message):
        self.tls.sendall(frame(encode(message)))
        self.sent = time.monotonic()

    def receive(self, seconds):
        """The next message; None when none came in time. Keeps itself alive."""
        end = time.monotonic() + seconds
        while not self.inbox:
            if time.monotonic() - self.sent > 5:
                self.send({"type": "keep-alive"})
            left = end - time.monotonic()
            if left <= 0:
                return None
            if not self.tls.pending() and not select.select([self.tls], [], [], min(left, 0.2))[0]:
                continue
            octets = self.tls.recv(65536)
            if not octets:
                raise Ended("the agent has closed the link")
            for payload in self.frames.feed(octets):
                self.inbox.append(decode(payload)[0])
        message = self.inbox.pop(0)
        if message["type"] == "goodbye":
            raise Ended("goodbye: " + message["reason"])
        return message

    def wait(self, kind, seconds=15):
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            message = self.receive(end - time.monotonic())
            if message is not None and message["type"] == kind:
                return message
            if message is not None and message["type"] == "pair-result":
                raise Ended(message["outcome"]["words"])
        raise Ended("no " + kind)

    def hello(self):
        self.send({"type": "hello", "versions": [1], "side": "monitor", "name": "second client",
                   "program": "second_client.py", "clockRate": 1.0})
        return self.wait("hello")


def own_key(identity):
    with open(identity, encoding="ascii") as pem:
        text = pem.read()
    begin = text.index("-----BEGIN CERTIFICATE-----")
    return public_key(ssl.PEM_cert_to_DER_cert(text[begin:].strip() + "\n"))


def pair(host, port, identity, name):
    link = Link(host, port, identity)
    own = own_key(identity)
    link.send({"type": "pair-request", "name": name, "key": own.hex()})
    commit = link.wait("pair-commit")
    if bytes.fromhex(commit["key"]) != link.key:
        raise Ended("the agent showed a key that is not its own")
    nonce = os.urandom(32)
    link.send({"type": "pair-nonce", "nonce": nonce.hex()})
    revealed = bytes.fromhex(link.wait("pair-reveal")["nonce"])
    pins = sha256(link.key) + sha256(own)
    if sha256(b"evenwarm pairing commitment 1", pins, revealed).hex() != commit["commitment"]:
        raise Ended("the agent did not keep to its commitment")
    digits = int.from_bytes(sha256(b"evenwarm pairing code 1", pins, revealed, nonce)[:8], "big") % 1000000
    print("%06d" % digits, flush=True)
    while not select.select([sys.stdin], [], [], 0)[0]:
        message = link.receive(0.2)
        if message is not None and message["type"] == "pair-result":
            raise Ended(message["outcome"]["words"])
    link.send({"type": "pair-confirm", "accepted": sys.stdin.readline().strip() == "yes"})
    result = link.wait("pair-result", 300)
    return {"paired": "role" in result, "role": result.get("role"), "agent": result.get("name"),
            "pin": "sha256:" + sha256(link.key).hex(), "words": result["outcome"]["words"]}


def read(host, port, identity, pin, wanted, seconds):
    link = Link(host, port, identity, pin)
    agent = link.hello()
    link.send({"type": "history-request", "afterSequence": 0})
    sequences, batches, live, journal = [], 0, {}, None
    end = time.monotonic() + 60
    while len(sequences) < wanted and time.monotonic() < end:
        message = link.receive(1)
        if message is None:
            continue
        if message["type"] == "history-batch":
            journal = journal or message["journal"]
            batches += 1
            for record in message["records"]:
                if not sequences or record["sequence"] > sequences[-1]:
                    sequences.append(record["sequence"])
            if message["records"]:
                link.send({"type": "acknowledge", "sequence": sequences[-1]})
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        message = link.receive(end - time.monotonic())
        if message is not None and message["type"] == "live":
            live.setdefault(message["snapshot"]["cabinet"], []).append(message["snapshot"])
    link.send({"type": "goodbye", "reason": "read"})
    return {"agent": agent["name"], "journal": journal, "batches": batches, "records": len(sequences),
            "first": sequences[0] if sequences else None, "last": sequences[-1] if sequences else None,
            "inOrder": sequences == list(range(1, len(sequences) + 1)),
            "live": {cabinet: len(all_) for cabinet, all_ in live.items()},
            "setPointCelsius": {cabinet: all_[-1]["setPointCelsius"] for cabinet, all_ in live.items()},
            "discarded": link.frames.discarded}


def command(host, port, identity, pin, cabinet):
    link = Link(host, port, identity, pin)
    link.hello()
    link.send({"type": "command-request", "id": 1, "command": {"type": "silence", "cabinet": cabinet}})
    outcome = link.wait("command-answer")["outcome"]
    return {"outcome": outcome["type"], "words": outcome["words"]}


def prove(device, pin):
    """Serial, "Who may talk": the hello that answers our nonce must prove the pinned key."""
    line = os.open(device, os.O_RDWR | os.O_NOCTTY)
    tty.setraw(line)
    frames, nonce = Frames(), os.urandom(32)
    hello = frame(encode({"type": "hello", "versions": [1], "side": "monitor", "name": "second client",
                          "program": "second_client.py", "clockRate": 1.0, "nonce": nonce.hex()}))
    end, again = time.monotonic() + 20, 0.0
    while time.monotonic() < end:
        if time.monotonic() >= again:
            os.write(line, hello)
            again = time.monotonic() + 2
        if not select.select([line], [], [], 0.2)[0]:
            continue
        for payload in frames.feed(os.read(line, 4096)):
            message = decode(payload)[0]
            if message["type"] != "hello" or "proof" not in message:
                continue
            key, signature = (bytes.fromhex(message["proof"][part]) for part in ("key", "signature"))
            if "sha256:" + sha256(key).hex() != pin:
                raise Ended("another key than the pinned one")
            if is_signature(key, signature, b"evenwarm agent 1" + nonce):
                return {"agent": message["name"], "proved": True,
                        "provesAnotherNonce": is_signature(key, signature, b"evenwarm agent 1" + os.urandom(32))}
    raise Ended("no proof")


def main(arguments):
    if arguments[0] == "prove":
        try:
            print(json.dumps(prove(arguments[1], arguments[2])))
            return 0
        except (Ended, OSError) as failure:
            print(json.dumps({"failed": str(failure)}))
            return 1
    what, host, port, identity = arguments[0], arguments[1], int(arguments[2]), arguments[3]
    try:
        if what == "pair":
            result = pair(host, port, identity, arguments[4])
        elif what == "read":
            result = read(host, port, identity, arguments[4], int(arguments[5]), float(arguments[6]))
        else:
            result = command(host, port, identity, arguments[4], arguments[5])
    except (Ended, OSError, ssl.SSLError) as failure:
        print(json.dumps({"failed": str(failure)}))
        return 1
    print(json.dumps(result))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
