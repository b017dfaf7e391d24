#!/usr/bin/env python3
"""Many clients at once: every answer must be the one that a client alone gets, and the server's memory must not grow.

SPDX-License-Identifier: MIT

    python3 tests/browser/page_load.py build/logocane 200     run by `make browser`
    python3 tests/browser/page_load.py build/logocane 3600s   for so many seconds, by hand

Connections are left open, as browsers leave them, until Python or the server closes them.

Eight clients send so many logos, or for so long, of eight kinds and each with an order of its own, a second connection each. One in
twenty leaves without an answer, one in twenty sends what is no picture. Prints how long it took and what the memory was.
"""
import http.client
import json
import re
import struct
import subprocess
import sys
import threading
import time
import zlib

LOGOCANE, CLIENTS, KINDS = sys.argv[1], 8, 8
SECONDS = int(sys.argv[2][:-1]) if sys.argv[2].endswith('s') else None
COUNT = 10 ** 9 if SECONDS else int(sys.argv[2])
QUICK = [('detail', 'plain'), ('ropes', '12'), ('pieces', '250')]


def png(kind):
    """A disc with a bar or a ring in it, drawn here; 96 px."""
    rows = b''
    for y in range(96):
        rows += b'\0'
        for x in range(96):
            far = (x - 47.5) ** 2 + (y - 47.5) ** 2
            bar = abs(y - 30 - 4 * kind) < 8 and abs(x - 47) < 30
            ink = (255, 255, 255) if far > 46 ** 2 else (200, 30, 40) if bar else (20, 40 + 20 * kind, 90)
            rows += bytes(ink)

    def chunk(name, data):
        return struct.pack('>I', len(data)) + name + data + struct.pack('>I', zlib.crc32(name + data))
    return b'\x89PNG\r\n\x1a\n' + chunk(b'IHDR', struct.pack('>IIBBBBB', 96, 96, 8, 2, 0, 0, 0)) + \
        chunk(b'IDAT', zlib.compress(rows)) + chunk(b'IEND', b'')


def body(kind, picture):
    fields = QUICK + [('piece', f'{14 + kind}x14mm')]
    parts = [f'--edge\r\nContent-Disposition: form-data; name="{name}"\r\n\r\n{value}\r\n'.encode() for name, value in fields]
    return b''.join(parts) + f'--edge\r\nContent-Disposition: form-data; name="logo"; filename="kind-{kind}.png"\r\n\r\n'.encode() + \
        picture + b'\r\n--edge--\r\n'


class Page:
    def __init__(self):
        self.process = subprocess.Popen([LOGOCANE, '--page=127.0.0.1:0'], stdout=subprocess.PIPE, text=True)
        self.at = re.search(r'http://([^/]+)/', self.process.stdout.readline()).group(1)
        page = self.ask('GET', '/').read().decode()
        self.token = re.search(r'name="token" content="(\w+)"', page).group(1)

    def ask(self, method, path, sent=None):
        connection = http.client.HTTPConnection(self.at, timeout=300)
        heads = {'Content-Type': 'multipart/form-data; boundary=edge', 'X-Logocane-Token': self.token} if sent else {}
        connection.request(method, path, sent, heads)
        answer = connection.getresponse()
        answer.connection = connection
        return answer

    def memory(self):
        with open(f'/proc/{self.process.pid}/status', encoding='ascii') as file:
            return int(re.search(r'VmRSS:\s+(\d+)', file.read()).group(1))


def one_client(page, client, wanted, counts, wrong, until):
    for i in range(client, COUNT, CLIENTS):
        if until and time.monotonic() >= until:
            break
        counts['asked'] += 1
        kind = i % KINDS
        if i % 20 == 7:
            page_sent = http.client.HTTPConnection(page.at, timeout=300)
            page_sent.request('POST', '/answer', body(kind, png(kind)),
                              {'Content-Type': 'multipart/form-data; boundary=edge', 'X-Logocane-Token': page.token})
            page_sent.close()
            counts['left'] += 1
            continue
        broken = i % 20 == 13
        while True:
            answer = page.ask('POST', '/answer', body(kind, b'no picture' if broken else png(kind)))
            told = answer.read()
            if answer.status != 503:
                break
            counts['again'] += 1
            time.sleep(0.5)
        if broken and answer.status == 422:
            counts['refused'] += 1
        elif not broken and answer.status == 200 and told == wanted[kind]:
            counts['right'] += 1
        else:
            wrong.append(f'{i}: status {answer.status}: {told[:120]}')


def main():
    page = Page()
    counts, wrong = {'asked': 0, 'right': 0, 'refused': 0, 'left': 0, 'again': 0}, []
    try:
        wanted = [page.ask('POST', '/answer', body(kind, png(kind))).read() for kind in range(KINDS)]
        if not all([json.loads(line)['stage'] for line in told.splitlines()] == ['drawn', 'advised'] for told in wanted):
            wrong.append('alone it does not answer')
        before, begun = page.memory(), time.monotonic()
        until = begun + SECONDS if SECONDS else None
        clients = [threading.Thread(target=one_client, args=(page, client, wanted, counts, wrong, until))
                   for client in range(CLIENTS)]
        for client in clients:
            client.start()
        for client in clients:
            client.join()
        took, after = time.monotonic() - begun, page.memory()
    finally:
        page.process.terminate()
        ended = page.process.wait(10)
    if after > before + 4096 or after > 20 * 1024:
        wrong.append(f'memory grew from {before} kB to {after} kB')
    if ended != 0 or sum(counts[what] for what in ('right', 'refused', 'left')) != counts['asked'] - len(wrong):
        wrong.append(f'ended with {ended}, {counts}')
    print('\n'.join(wrong))
    print(f'{counts["asked"]} logos, {CLIENTS} clients: {took:.0f} s; {counts}; memory {before} kB before, {after} kB after')
    sys.exit(1 if wrong else 0)


if __name__ == '__main__':
    main()
