#!/usr/bin/env python3
"""An outside switch: expects a call from each feed every minute or so, and tells people when none came.

Runs on any small server that has its own power and its own network, with Python 3.9 or newer and nothing
else. See outside-switch.md beside this folder.
"""
import argparse
import hashlib
import http.server
import json
import os
import re
import smtplib
import ssl
import stat
import subprocess
import sys
import threading
import time
from datetime import datetime, timezone
from email.message import EmailMessage
from email.utils import format_datetime

TOKEN = re.compile(r"[A-Za-z0-9_-]{20,200}")
MAX_BODY_OCTETS = 4096
MAX_CALLERS = 32
CALLER_SECONDS = 10
SPEAK_SECONDS = 30
RETRY_SECONDS = 30


class Fault(Exception):
    """Something that a person has to put right, in words for them."""


def owner_only(path):
    """The text of a file that holds secrets."""
    try:
        if stat.S_IMODE(os.stat(path).st_mode) & 0o077:
            raise Fault(f"{path}: others than its owner may read it; chmod 600 {path}")
        with open(path, encoding="utf-8") as file:
            return file.read()
    except OSError as error:
        raise Fault(f"{path}: {error.strerror}") from error


def digest(token):
    """What tokens are compared by, so that the time of a comparison tells nothing of them."""
    return hashlib.sha256(token.encode()).hexdigest()


def read_feeds(path):
    """Names by their tokens' digests; a line each: token, space, name."""
    feeds = {}
    for number, line in enumerate(owner_only(path).splitlines(), 1):
        if not line.strip() or line.startswith("#"):
            continue
        token, _, name = line.strip().partition(" ")
        if not TOKEN.fullmatch(token) or not name.strip() or not name.isprintable():
            raise Fault(f"{path}, line {number}: a line is a token of 20 to 200 letters, digits, - or _, a space, a name")
        if digest(token) in feeds or name.strip() in feeds.values():
            raise Fault(f"{path}, line {number}: this token or name is there already")
        feeds[digest(token)] = name.strip()
    if not feeds:
        raise Fault(f"{path}: no feed in it")
    return feeds


def read_mail(path):
    """How mail is sent, as JSON."""
    try:
        mail = json.loads(owner_only(path))
        missing = [key for key in ("host", "port", "from", "to") if key not in mail]
    except (ValueError, TypeError) as error:
        raise Fault(f"{path}: no JSON object: {error}") from error
    if missing:
        raise Fault(f"{path}: {', '.join(missing)} missing")
    if mail.get("security", "starttls") not in ("starttls", "tls", "none"):
        raise Fault(f"{path}: security is starttls, tls or none")
    return mail


class People:
    """Tells them: one message at a time, tried again until it is taken. What waits survives a restart."""

    def __init__(self, command, mail, waiting):
        self.command, self.mail, self.waiting = command, mail, waiting
        self.next_try = 0.0

    def tell(self, subject, text):
        self.waiting.append({"subject": subject, "text": text})
        self.next_try = 0.0

    def work(self, now):
        """True when something went out."""
        if not self.waiting or now < self.next_try:
            return False
        try:
            self._send(self.waiting[0])
        except (OSError, smtplib.SMTPException, subprocess.SubprocessError) as error:
            print(f"not told ({error}); tried again in {RETRY_SECONDS} s", file=sys.stderr, flush=True)
            self.next_try = now + RETRY_SECONDS
            return False
        self.waiting.pop(0)
        return True

    def _send(self, message):
        if self.command:
            subprocess.run(self.command, input=json.dumps(message).encode(), check=True, timeout=SPEAK_SECONDS)
        if self.mail:
            mail = EmailMessage()
            mail["Subject"], mail["From"], mail["To"] = message["subject"], self.mail["from"], ", ".join(self.mail["to"])
            mail["Date"] = format_datetime(datetime.now(timezone.utc))
            mail.set_content(message["text"])
            security = self.mail.get("security", "starttls")
            kind = smtplib.SMTP_SSL if security == "tls" else smtplib.SMTP
            with kind(self.mail["host"], self.mail["port"], timeout=SPEAK_SECONDS) as server:
                if security == "starttls":
                    server.starttls(context=ssl.create_default_context())
                if "user" in self.mail:
                    server.login(self.mail["user"], self.mail["password"])
                server.send_message(mail)


class Switch:
    """Who called when, and who is missed."""

    def __init__(self, feeds, limit, remind, state, people_of):
        self.feeds, self.limit, self.remind, self.state = feeds, limit, remind, state
        self.lock = threading.Lock()
        begin = time.monotonic()
        # Nobody is missed sooner than the limit after this program's own start.
        self.called = {name: begin for name in feeds.values()}
        kept = self._load()
        self.missed = {name: begin for name in kept.get("missed", []) if name in self.called}
        self.people = people_of(kept.get("waiting", []))

    def _load(self):
        try:
            with open(self.state, encoding="utf-8") as file:
                return json.load(file)
        except FileNotFoundError:
            return {}
        except (OSError, ValueError) as error:
            print(f"{self.state} can't be read ({error}) and is begun anew", file=sys.stderr, flush=True)
            return {}

    def _save(self):
        text = json.dumps({"missed": sorted(self.missed), "waiting": self.people.waiting})
        with open(self.state + ".new", "w", encoding="utf-8") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        os.replace(self.state + ".new", self.state)

    def call(self, name):
        with self.lock:
            self.called[name] = time.monotonic()

    def look(self):
        """Once a second."""
        now = time.monotonic()
        clock = datetime.now().astimezone().strftime("%a %d %b %Y %H:%M:%S %Z")
        changed = False
        with self.lock:
            for name, called in self.called.items():
                silent = now - called
                if silent > self.limit and (name not in self.missed or now - self.missed[name] >= self.remind):
                    self.missed[name] = now
                    self.people.tell(
                        f"SILENT: {name}",
                        f"{name} has not called for {silent / 60:.1f} minutes (now {clock}).\n"
                        "Mains, network, or one of the programs there is down, or something there is wrong and"
                        " nobody could be told. Look after the cabinets now; if the house has no power, keep their"
                        " doors shut.\n")
                    changed = True
                elif silent <= self.limit and name in self.missed and called > self.missed[name]:
                    del self.missed[name]
                    self.people.tell(f"Back: {name}", f"{name} calls again (now {clock}). Look what happened meanwhile.\n")
                    changed = True
        # Telling may take long, and callers must not wait for it.
        told = self.people.work(now)
        if changed or told:
            try:
                self._save()
            except OSError as error:
                print(f"{self.state} can't be written: {error}", file=sys.stderr, flush=True)


def handler_of(switch):
    places = threading.BoundedSemaphore(MAX_CALLERS)

    class Handler(http.server.BaseHTTPRequestHandler):
        timeout = CALLER_SECONDS
        server_version, sys_version = "switch", ""

        def answer(self):
            if not places.acquire(blocking=False):
                self.send_error(503)
                return
            try:
                length = self.headers.get("Content-Length", "0")
                if length.isdigit() and int(length) <= MAX_BODY_OCTETS:
                    self.rfile.read(int(length))
                name = switch.feeds.get(digest(self.path[6:])) if self.path.startswith("/feed/") else None
                if name:
                    switch.call(name)
                self.send_response(204 if name else 404)
                self.send_header("Content-Length", "0")
                self.send_header("Connection", "close")
                self.end_headers()
                self.close_connection = True
            finally:
                places.release()

        do_GET = do_HEAD = do_POST = answer

        def log_message(self, *arguments):
            """Nothing: a line a call would hold the tokens."""

    return Handler


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--listen", default="127.0.0.1:8480", metavar="HOST:PORT")
    parser.add_argument("--feeds", required=True, metavar="FILE", help="a line each: token, space, name; chmod 600")
    parser.add_argument("--state", required=True, metavar="FILE", help="what must survive a restart")
    parser.add_argument("--limit-seconds", type=int, default=240, help="who is silent for longer is missed")
    parser.add_argument("--remind-seconds", type=int, default=3600, help="and told of again so often")
    parser.add_argument("--certificate", metavar="PEM", help="for HTTPS, with --key")
    parser.add_argument("--key", metavar="PEM")
    parser.add_argument("--mail", metavar="FILE", help="JSON: host, port, security, user, password, from, to; chmod 600")
    parser.add_argument("--test", action="store_true", help="tell people now that this is a test, and end")
    parser.add_argument("command", nargs="*", help="after --: a program that gets each message as JSON")
    options = parser.parse_args()
    try:
        if not options.command and not options.mail:
            raise Fault("nobody would be told: give --mail FILE, or -- and a program")
        if options.limit_seconds < 2 or options.remind_seconds < 1:
            raise Fault("--limit-seconds takes 2 or more, --remind-seconds 1 or more")
        mail = read_mail(options.mail) if options.mail else None
        if options.test:
            people = People(options.command, mail, [])
            people.tell("Test of the outside switch", "This is a test. Nothing is wrong.\n")
            return 0 if people.work(0.0) else 1
        feeds = read_feeds(options.feeds)
        host, _, port = options.listen.rpartition(":")
        switch = Switch(feeds, options.limit_seconds, options.remind_seconds, options.state,
                        lambda waiting: People(options.command, mail, waiting))
        try:
            server = http.server.ThreadingHTTPServer((host.strip("[]"), int(port)), handler_of(switch))
            if options.certificate:
                context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
                context.load_cert_chain(options.certificate, options.key)
                server.socket = context.wrap_socket(server.socket, server_side=True, do_handshake_on_connect=False)
        except (OSError, ValueError, OverflowError) as error:
            raise Fault(f"{options.listen}: {error}") from error
    except Fault as fault:
        print(f"outside switch: {fault}", file=sys.stderr)
        return 2
    server.daemon_threads = True
    threading.Thread(target=server.serve_forever, daemon=True).start()
    print(f"listening at port {server.server_address[1]}", flush=True)
    try:
        while True:
            switch.look()
            time.sleep(1)
    except KeyboardInterrupt:
        return 0


if __name__ == "__main__":
    sys.exit(main())
