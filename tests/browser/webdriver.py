"""A browser, driven through the W3C WebDriver protocol: the few commands the tests of the page need.

SPDX-License-Identifier: MIT

    with Browser(downloads=tempfile.mkdtemp()) as browser:
        browser.open('http://127.0.0.1:8765/')
        browser.find('#file').type(os.path.abspath('samples/night-ferry.png'))

Needs chromedriver and chromium (Debian: chromium-driver). Only Python's own library is used.
"""
import base64
import json
import subprocess
import time
import urllib.error
import urllib.request

ELEMENT = 'element-6066-11e4-a52e-4f735466cecf'  # how the protocol names an element
TAB, ENTER, ESCAPE, SPACE, SHIFT = '\ue004', '\ue007', '\ue00c', ' ', '\ue008'


class Failed(Exception):
    """What was awaited did not come, or the browser refused."""


class Browser:
    """One window of chromium without a screen."""

    def __init__(self, downloads, driver='/usr/bin/chromedriver', dark=False):
        self.process = subprocess.Popen([driver, '--port=0'], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
        self.base = f'http://127.0.0.1:{self._port()}'
        flags = ['--headless=new', '--no-sandbox', '--disable-dev-shm-usage', '--disable-gpu', '--hide-scrollbars', '--no-first-run',
                 '--disable-background-networking', '--disable-component-update', '--force-device-scale-factor=1']
        options = {'args': flags, 'prefs': {'download.default_directory': downloads, 'download.prompt_for_download': False}}
        asked = {'capabilities': {'alwaysMatch': {'browserName': 'chrome', 'goog:chromeOptions': options,
                                                  'goog:loggingPrefs': {'browser': 'ALL'}}}}
        self.session = ''
        self.session = '/session/' + self.call('POST', '/session', asked)['sessionId']

    def _port(self):
        for line in self.process.stdout:
            if 'started successfully on port' in line:
                return int(line.rstrip('. \n').rsplit(' ', 1)[1])
        raise Failed('chromedriver did not start')

    def __enter__(self):
        return self

    def __exit__(self, *_):
        try:
            self.call('DELETE', '')
        finally:
            self.process.terminate()
            self.process.wait()

    def call(self, method, path, body=None):
        """One command of the protocol; its value."""
        data = None if method != 'POST' else json.dumps(body or {}).encode()
        request = urllib.request.Request(self.base + self.session + path, data, {'Content-Type': 'application/json'}, method=method)
        try:
            with urllib.request.urlopen(request, timeout=60) as answer:
                return json.load(answer)['value']
        except urllib.error.HTTPError as refused:
            told = json.load(refused)['value']
            raise Failed(f"{told['error']}: {told['message'].splitlines()[0]}") from None

    def open(self, address):
        self.call('POST', '/url', {'url': address})

    def run(self, script, *arguments):
        """The value that a script of the page returns."""
        return self.call('POST', '/execute/sync', {'script': script, 'args': list(arguments)})

    def run_later(self, script, *arguments):
        """The value with which a script calls its last argument."""
        return self.call('POST', '/execute/async', {'script': script, 'args': list(arguments)})

    def devtools(self, command, **parameters):
        """A command of chromium's own protocol, for what WebDriver has not: dark, paper."""
        return self.call('POST', '/goog/cdp/execute', {'cmd': command, 'params': parameters})

    def size(self, width, height):
        self.devtools('Emulation.setDeviceMetricsOverride', width=width, height=height, deviceScaleFactor=1, mobile=False)

    def dark(self, is_dark):
        self.devtools('Emulation.setEmulatedMedia', features=[{'name': 'prefers-color-scheme', 'value': 'dark' if is_dark else 'light'}])

    def find(self, selector):
        return Element(self, self.call('POST', '/element', {'using': 'css selector', 'value': selector})[ELEMENT])

    def keys(self, *pressed):
        """Keys pressed one after another, wherever the focus is; (SHIFT, TAB) are pressed together."""
        actions = []
        for keys in pressed:
            together = keys if isinstance(keys, tuple) else (keys,)
            actions += [{'type': 'keyDown', 'value': key} for key in together]
            actions += [{'type': 'keyUp', 'value': key} for key in reversed(together)]
        self.call('POST', '/actions', {'actions': [{'type': 'key', 'id': 'keyboard', 'actions': actions}]})

    def wait(self, what, script, *arguments, seconds=90):
        """Until the script returns something true, which is handed back."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            value = self.run(script, *arguments)
            if value:
                return value
            time.sleep(0.05)
        raise Failed(f'waited {seconds} s in vain: {what}')

    def picture(self, path, whole=True):
        """What is seen, or the whole page, as a PNG."""
        told = self.devtools('Page.captureScreenshot', format='png', captureBeyondViewport=whole)
        with open(path, 'wb') as file:
            file.write(base64.b64decode(told['data']))

    def complaints(self):
        """What the browser's console holds of errors."""
        return [entry['message'] for entry in self.call('POST', '/se/log', {'type': 'browser'}) if entry['level'] == 'SEVERE']


class Element:
    """Something on the page."""

    def __init__(self, browser, name):
        self.browser, self.name = browser, name

    def click(self):
        self.browser.call('POST', f'/element/{self.name}/click')

    def type(self, text):
        self.browser.call('POST', f'/element/{self.name}/value', {'text': text})

    def clear(self):
        self.browser.call('POST', f'/element/{self.name}/clear')

    def text(self):
        return self.browser.call('GET', f'/element/{self.name}/text')
