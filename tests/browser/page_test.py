#!/usr/bin/env python3
"""The page in a real browser: what a person does is done, and what is seen is compared with what the command says.

SPDX-License-Identifier: MIT

    python3 tests/browser/page_test.py build/logocane build/browser [WORD...]     run by `make browser`, in the project's folder

With words, only the tests whose names hold one of them; many need the shelf that `each sample` fills. Pictures of the page
go into the second argument, where axe-core lies too (node_modules/axe-core/axe.min.js).
One browser and one server serve all tests, which go one after another; each says in its name what must hold.
"""
import base64
import os
import re
import shlex
import shutil
import subprocess
import sys
import tempfile
import time
import zipfile

from webdriver import ENTER, ESCAPE, SHIFT, SPACE, TAB, Browser, Failed

LOGOCANE, OUT = (os.path.abspath(path) for path in sys.argv[1:3])
SAMPLES = os.path.abspath('samples')
AXE = os.path.join(OUT, 'node_modules/axe-core/axe.min.js')
WIDTHS = ((320, 640), (360, 740), (1180, 820), (2560, 1440))
RULES = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']

DONE = 'return Boolean(page.front) && isFresh(page.front) && page.front.state === "done"'
SEEN = 'return document.getElementById("stamp").textContent + ": " + document.getElementById("verdict").lastChild.textContent'


def sample(name):
    return os.path.join(SAMPLES, name)


def check(is_so, otherwise):
    if not is_so:
        raise Failed(otherwise)


def command(*arguments):
    """What the command prints."""
    told = subprocess.run([LOGOCANE, *arguments], capture_output=True, text=True, cwd=SAMPLES, check=False)
    return told.stdout if told.stdout else told.stderr


# --- what a person does ---


def choose(b, *paths):
    """Takes logos through the file field."""
    b.find('#file').type('\n'.join(paths))


def drop(b, path):
    """Lets a file fall onto the page, as the mouse does."""
    with open(path, 'rb') as file:
        content = base64.b64encode(file.read()).decode()
    b.run("""const bytes = Uint8Array.from(atob(arguments[1]), c => c.charCodeAt(0)), data = new DataTransfer();
        data.items.add(new File([bytes], arguments[0]));
        for (const what of ['dragenter', 'dragover', 'drop'])
          document.body.dispatchEvent(new DragEvent(what, {dataTransfer: data, bubbles: true, cancelable: true}));""",
          os.path.basename(path), content)


def paste(b, path):
    with open(path, 'rb') as file:
        content = base64.b64encode(file.read()).decode()
    b.run("""const bytes = Uint8Array.from(atob(arguments[1]), c => c.charCodeAt(0)), data = new DataTransfer();
        data.items.add(new File([bytes], arguments[0]));
        document.body.dispatchEvent(new ClipboardEvent('paste', {clipboardData: data, bubbles: true, cancelable: true}));""", os.path.basename(path), content)


def front(b, name):
    """Brings a logo of the shelf to the front and waits for its answer."""
    b.run('bringToFront(page.shelf.find(logo => logo.file.name === arguments[0]))', name)
    b.wait(f'the answer for {name}', DONE)


def press(b, selector):
    b.run('arguments[0] === "" || document.querySelector(arguments[0]).scrollIntoView({block: "center"})', selector)
    b.find(selector).click()


def retype(b, selector, text):
    b.run('document.querySelector(arguments[0]).select()', selector)
    b.find(selector).type(text)


# --- fit for people ---


def violations(b):
    if not os.path.exists(AXE):
        return []  # make browser says so
    found = b.run_later("""const done = arguments[arguments.length - 1];
        axe.run(document, {runOnly: {type: 'tag', values: arguments[0]}, resultTypes: ['violations']})
          .then(r => done(r.violations.map(v => v.id + ' ' + v.nodes.map(n => n.target + ' ' + n.any.map(a => a.message).join()).join('; '))), e => done(['' + e]));""", RULES)
    return found


CUT_OFF = r"""const cut = [];
    if (document.documentElement.scrollWidth > innerWidth) cut.push('the page is wider than the window: ' + [...document.querySelectorAll('body *')].filter(e => e.getBoundingClientRect().right > innerWidth + 1 && !e.closest('.scrolls, #shelf-list')).map(e => e.tagName + e.id + e.className).slice(0, 9));
    for (const at of document.querySelectorAll('body *')) {
      if (!at.checkVisibility() || at.closest('.unseen, svg, .scrolls, #shelf-list, select') || at.matches('input')) continue;
      const box = at.getBoundingClientRect();
      if (box.right > innerWidth + 1 || box.left < -1) cut.push((at.id || at.className || at.tagName) + ' sticks out');
      if (at.children.length === 0 && at.scrollWidth > at.clientWidth + 1 && at.clientWidth > 0) cut.push((at.id || at.textContent) + ' is cut off');
    }
    return cut.slice(0, 5);"""


def look_at(b, name):
    """Pictures of the page as it is now, at each width and in the dark; what of it is not fit for people."""
    wrong = []
    for width, height in WIDTHS:
        b.size(width, height)
        wrong += [f'{name} at {width}: {what}' for what in b.run(CUT_OFF)]
        b.picture(os.path.join(OUT, f'{name}-{width}.png'), whole=name != 'candies')
    b.size(1180, 820)
    if os.path.exists(AXE):
        with open(AXE, encoding='utf-8') as file:
            b.run(f'if (!window.axe) {{ {file.read()}; window.axe = axe; }}')
    for is_dark in (False, True):
        b.dark(is_dark)
        wrong += [f'{name}, {"dark" if is_dark else "light"}: {what}' for what in violations(b)]
        if is_dark:
            b.run('scrollTo(0, 0)')
            b.picture(os.path.join(OUT, f'{name}-dark.png'), whole=False)
    b.dark(False)
    return wrong


# --- what must hold ---


def test_five_states_are_fit_for_people_and_pictured(b, _):
    wrong = look_at(b, 'empty')
    b.run('document.getElementById("choose").focus()')
    choose(b, sample('night-ferry.png'), sample('oak-bicycles.png'), sample('clockmakers-crest.png'))
    b.wait('the answers', 'return page.shelf.length === 3 && page.shelf.every(one => one.state === "done")')
    check(b.run('return document.activeElement.id') == 'verdict', 'the focus is lost with what stood there before a logo')
    front(b, 'night-ferry.png')
    press(b, '#checks-summary')
    wrong += look_at(b, 'change')
    press(b, '#checks-summary')
    front(b, 'clockmakers-crest.png')
    wrong += look_at(b, 'no')
    front(b, 'oak-bicycles.png')
    press(b, '#inks button')
    wrong += look_at(b, 'candies')
    b.keys(ESCAPE)
    b.run('setOption(page.front.order, "jacket", "no such candy"); fillOrder(); changed(0)')
    b.wait('the refusal', 'return page.front.state === "refused"')
    wrong += look_at(b, 'refused')
    press(b, '#standard')
    b.wait('the answer', DONE)
    check(not wrong, '\n  '.join(wrong))


def test_each_sample_gets_the_verdict_that_the_command_gives(b, _):
    names = sorted(name for name in os.listdir(SAMPLES) if name.endswith(('.png', '.jpg')))
    wanted = subprocess.Popen([LOGOCANE, '--csv', *names], stdout=subprocess.PIPE, text=True, cwd=SAMPLES)
    there = b.run('return page.shelf.map(logo => logo.file.name)')
    new = [name for name in names if name not in there]
    choose(b, *(sample(name) for name in new[:-2]))
    b.wait('the shelf', 'return page.shelf.length === arguments[0]', len(names) - 2)
    drop(b, sample(new[-2]))
    b.wait('the one that was dropped', 'return page.shelf.length === arguments[0]', len(names) - 1)
    paste(b, sample(new[-1]))
    b.wait('all answers', 'return page.shelf.length === arguments[0] && page.shelf.every(one => one.state === "done")', len(names), seconds=120)
    shelf = dict(b.run('return [...document.querySelectorAll("#shelf-list li")].map(li => [li.querySelector(".stand").title, li.querySelector(".word").textContent])'))
    table = wanted.communicate()[0].splitlines()
    column = table[0].split(',').index('verdict')
    for name, row in zip(names, table[1:]):
        check(shelf[name] == row.split(',')[column], f'{name}: the page says {shelf[name]}, the command {row}')


def test_the_words_are_the_commands(b, _):
    front(b, 'balloon-rides.png')
    front(b, 'night-ferry.png')
    check(b.run(SEEN) == command('night-ferry.png').splitlines()[0], b.run(SEEN))
    spoken = b.run('return document.getElementById("spoken").textContent')
    check(spoken == b.run(SEEN) + '. with 5 colours: then all is go', f'spoken is: {spoken}')
    check('it would take 5 candies' in b.run('return page.shelf.map(l => rowText(l.answer, "Why")).join()'), 'no reason is given')


def test_another_size_is_another_answer(b, _):
    front(b, 'fox-books.png')
    retype(b, '#across', '20')
    check(b.run('return document.getElementById("pictures").classList.contains("old")'), 'the old picture is not dimmed')
    b.wait('the answer', DONE)
    row = b.run('return rowText(page.front.answer, "Order")')
    check(row == '1 000 pieces of 20 x 14 mm', f'the order is {row}')
    wide = b.run('return document.querySelector("#true img").getBoundingClientRect().width / (96 / 25.4)')
    check(abs(wide - 20) < 0.05, f'the true size is {wide} mm')
    retype(b, '#across', '16')
    b.wait('the answer', DONE)


def test_a_size_that_cannot_be_is_said_and_not_asked(b, _):
    retype(b, '#across', '99')
    b.wait('the line', 'return document.getElementById("wrong").textContent === "A piece is 5 to 60 mm across."')
    check(b.run('return !page.question && !document.getElementById("earlier").hidden'), 'it was asked, or the picture seems to be its answer')
    retype(b, '#across', '16')
    b.wait('the answer that was there', DONE)


def test_late_answers_are_dropped(b, _):
    b.run("""window.late = []; window.realFetch = window.fetch;
        window.fetch = async (path, options) => {
          if (path !== '/answer' || late.length) return realFetch(path, options);
          late.push('asked');
          const answer = await realFetch(path, {...options, signal: undefined});   // as if breaking off came too late
          await new Promise(done => setTimeout(done, 2500));
          late.push('came');
          return answer;
        };
        window.orders = new Set();
        new MutationObserver(() => orders.add(document.getElementById('rows').textContent.slice(0, 60))).observe(document.getElementById('rows'), {childList: true});""")
    retype(b, '#across', '18')
    b.wait('the first question', 'return late.length === 1')
    retype(b, '#across', '14')
    b.wait('the last answer', DONE)
    b.wait('the late answer', 'return late.length === 2')
    time.sleep(0.5)
    orders = b.run('window.fetch = realFetch; return [...orders].join("; ")')
    check('14 x 14 mm' in orders and '18 x 14 mm' not in orders, f'seen were: {orders}')
    retype(b, '#across', '16')
    b.wait('the answer', DONE)


def test_a_full_queue_is_waited_for_and_a_lost_program_told(b, _):
    b.run("""window.realFetch = window.fetch; window.times = 0;
        window.fetch = (path, options) => times++ === 0 ? Promise.resolve(new Response('{"line": "too many ask at once"}', {status: 503}))
          : times === 2 ? Promise.reject(new TypeError('gone')) : realFetch(path, options);""")
    retype(b, '#across', '15')
    b.wait('the line', 'return document.getElementById("glance").textContent === "too many ask at once"')
    b.wait('the loss', 'return document.getElementById("trouble-line").textContent.startsWith("No answer")')
    press(b, '#again')
    b.wait('the answer', DONE)
    b.run('window.fetch = realFetch')
    retype(b, '#across', '16')
    b.wait('the answer', DONE)


def test_advice_is_taken(b, _):
    front(b, 'night-ferry.png')
    press(b, '#advised button')
    b.wait('the answer', 'return page.front.order.colours === 5 && ' + DONE[7:])
    check(b.run(SEEN) == command('-k', '5', 'night-ferry.png').splitlines()[0], b.run(SEEN))
    check(b.run('return document.getElementById("colours").value') == '5', 'the control does not show it')
    check(b.run('return document.activeElement.id') == 'verdict', 'the focus is lost')


def test_advice_to_leave_the_lettering_out_is_taken(b, downloads):
    """A cup with a small name under it, drawn by the browser: its letters are the system's, not ours."""
    path = os.path.join(downloads, 'named-cup.png')
    drawn = b.run("""const canvas = document.createElement('canvas'), c = canvas.getContext('2d');
        canvas.width = canvas.height = 600;
        const fill = (ink, ...box) => { c.fillStyle = ink; c.fillRect(...box); };
        fill('#ffffff', 0, 0, 600, 600);
        fill('#1b2a5a', 150, 120, 240, 250);
        fill('#1b2a5a', 390, 160, 80, 50);
        fill('#c03028', 240, 30, 50, 70);
        c.font = 'bold 34px sans-serif';
        c.textAlign = 'center';
        c.fillStyle = '#1b2a5a';
        c.fillText('HARBOUR CAFE AND TEA', 300, 470);
        return canvas.toDataURL('image/png').split(',')[1];""")
    with open(path, 'wb') as file:
        file.write(base64.b64decode(drawn))
    choose(b, path)
    b.wait('the answer', 'return page.front.file.name === "named-cup.png" && ' + DONE[7:])
    b.wait('the advice', 'return document.querySelector("#advised button") !== null')
    press(b, '#advised button')
    b.wait('the answer without', 'return page.front.answer.command.includes("--leave-out lettering") && ' + DONE[7:])
    told = command('--leave-out', 'lettering', path).splitlines()[0]
    check(b.run(SEEN) == told and told.startswith('GO'), f'{b.run(SEEN)}, the command says {told}')
    front(b, 'night-ferry.png')


def test_a_click_changes_a_candy(b, _):
    press(b, '#inks li:last-child button')
    press(b, '#candy .candy-choice:nth-child(2)')  # dyed to order
    b.wait('the answer', DONE)
    check(b.run('return page.front.answer.inks.at(-1).made') == 'dyed', 'the ink is not dyed')
    press(b, '#inks li:nth-child(3) button')
    b.run("""const [a, one, c, two] = document.querySelectorAll('#candy .blend select'); one.value = 'blue'; c.value = '2'; two.value = 'white';
        document.querySelector('#candy .blend button').click();""")
    b.wait('the answer', DONE)
    check(b.run('return page.front.answer.inks[2].candy') == 'blue+2white', 'there is no blend')
    press(b, '#standard')
    b.wait('the answer', DONE)
    check(b.run('return page.front.answer.command') == 'logocane night-ferry.png', 'the order is not as usual again')


def test_a_jacket_of_stripes(b, _):
    press(b, '#jacket')
    for candy in ('red', 'white'):
        press(b, f'#candy [data-key={candy}]')
    b.run('document.getElementById("stripes").value = "8"')
    press(b, '#candy button.strong')
    b.wait('the answer', DONE)
    check(b.run('return page.front.answer.command') == 'logocane -j red,white --stripes 8 night-ferry.png', b.run('return page.front.answer.command'))
    check('8 stripes' in b.find('#jacket').text(), b.find('#jacket').text())


def test_the_zip_holds_what_the_command_writes(b, downloads):
    press(b, '#away [data-file=""]')
    path = os.path.join(downloads, 'night-ferry.zip')
    with tempfile.TemporaryDirectory() as scratch:
        typed = shlex.split(b.run('return page.front.answer.command'))
        check(typed[0] == 'logocane', f'typed would be {typed}')
        command('-o', os.path.join(scratch, 'job'), *typed[1:])
        b.wait('the file', 'return document.getElementById("away-said").textContent === "night-ferry.zip is in your downloads."')
        for _ in range(100):
            if os.path.exists(path):
                break
            time.sleep(0.1)
        wanted = {name: open(os.path.join(scratch, 'job', name), 'rb').read() for name in os.listdir(os.path.join(scratch, 'job'))}
        with zipfile.ZipFile(path) as archive:
            got = {os.path.basename(name): archive.read(name) for name in archive.namelist() if not name.endswith('/')}
    check(sorted(got) == sorted(wanted), f'files: {sorted(got)}, wanted {sorted(wanted)}')
    for name, content in wanted.items():
        check(got[name] == content, f'{name} is not the same')


def test_the_picture_for_the_client_is_seen(b, _):
    press(b, '#see')
    b.wait('the picture', 'const at = document.getElementById("large-picture"); return document.getElementById("large").open && at.complete && at.naturalWidth === 1600')
    b.picture(os.path.join(OUT, 'client-1180.png'), whole=False)
    b.keys(ESCAPE)


def test_a_picture_that_fills_its_frame_is_laid_whole(b, _):
    front(b, 'valley-cider.png')
    b.run('document.getElementById("fit").closest("details").open = true; const at = document.getElementById("fit"); at.value = "crop"; at.dispatchEvent(new Event("change"))')
    b.wait('the answer', DONE)
    check(b.run('return page.front.answer.command') == 'logocane --fit crop valley-cider.png', b.run('return page.front.answer.command'))
    press(b, '#also .off')
    b.wait('the answer', DONE)
    check(b.run('return document.getElementById("fit").value') == 'auto', 'the field still says it')
    front(b, 'night-ferry.png')


def test_a_job_is_kept_and_replaced_only_when_asked_twice(b, downloads):
    said = 'return document.getElementById("away-said").textContent'
    press(b, '#keep')
    b.wait('the folder', said + '.startsWith("kept in")')
    check(os.path.exists(os.path.join(downloads, 'kept', 'night-ferry', 'job.json')), 'there is no folder')
    press(b, '#keep')
    check(b.run(said) == 'It is being kept …', 'nothing is said meanwhile')
    b.wait('the question', 'return !document.getElementById("replace-row").hidden')
    check('is' in b.run(said), b.run(said))
    before = os.stat(os.path.join(downloads, 'kept', 'night-ferry')).st_ino
    press(b, '#replace')
    b.wait('the folder', said + '.startsWith("kept in")')
    check(os.stat(os.path.join(downloads, 'kept', 'night-ferry')).st_ino != before, 'it was not replaced')


def test_a_size_is_taken_from_the_table(b, _):
    front(b, 'harbour-cafe.png')
    press(b, '#sweep')
    b.wait('two rows', 'return page.sweep.rows.length >= 2')
    row = b.run('return [page.sweep.rows[1].diameter_mm, page.sweep.rows[1].pieces, page.sweep.rows[1].verdict]')
    b.run('document.querySelector(`#sizes [data-key="${page.sweep.rows[1].diameter_mm} ${page.sweep.rows[1].pieces}"]`).click()')
    b.run('if (!page.sweep.done) document.getElementById("sweep").click()')
    b.wait('the answer', DONE)
    check(b.run('return [page.front.order.across, page.front.order.pieces, page.front.answer.verdict]') == row, 'the answer is not the table\'s')
    press(b, '#standard')
    b.wait('the answer', DONE)


def test_what_is_taken_off_the_shelf_is_gone(b, _):
    while b.run('return page.shelf.length') > 2:
        press(b, '#shelf-list li:not(:has([aria-current])) [aria-label]:not([aria-label*=night-ferry])')
    check(b.run('return page.shelf.map(logo => logo.file.name).sort().join()') == 'harbour-cafe.png,night-ferry.png', 'others are left')
    check(b.run('return document.querySelectorAll("#table tr").length') == 2, 'the table has others')


def test_inches_are_read_and_typed(b, _):
    press(b, '#units [value=in]')
    b.wait('the answer', DONE)
    check(b.run('return document.getElementById("across").value') == '0.63', 'the diameter is not in inches')
    retype(b, '#across', '3/4')
    b.wait('the answer', DONE)
    row = b.run('return rowText(page.front.answer, "Order")')
    check('3/4 x 0.55 in' in row, row)
    retype(b, '#across', '5')
    b.wait('the line', 'return document.getElementById("wrong").textContent === "A piece is 0.2 to 2.36 in across."')
    retype(b, '#across', '3/4')
    b.wait('the answer', DONE)
    press(b, '#sweep')
    b.wait('three rows', 'return page.sweep.rows.length >= 3')
    b.run('document.getElementById("sweep").click()')
    told = b.run('return [...document.querySelectorAll("#sizes th")].map(th => th.textContent)')
    check(told and all(re.fullmatch(r'(1/2|9/16|5/8|11/16|3/4|7/8|1) in', one) for one in told), f'the sizes are {told}')
    b.run('document.querySelector("#sizes [data-key]").click()')
    b.wait('the answer', DONE)
    check(b.run('return document.getElementById("across").value + " in"') in told, 'the field says another size than the table')
    press(b, '#standard')
    press(b, '#units [value=mm]')
    b.wait('the answer', DONE)


def test_a_mass_ordered_stays_what_it_is_in_other_units(b, _):
    """Also of a logo that is not in front while the units change."""
    amount = 'return [document.getElementById("amount").value, document.getElementById("amount-unit").selectedOptions[0].text, page.front.order.mass].join(" ")'
    front(b, 'harbour-cafe.png')
    b.run("""const unit = document.getElementById('amount-unit'); unit.value = 'mass'; unit.dispatchEvent(new Event('change', {bubbles: true}));""")
    retype(b, '#amount', '5')
    b.wait('the answer', 'return page.front.order.mass === "5kg" && ' + DONE[7:])
    front(b, 'night-ferry.png')
    press(b, '#units [value=in]')
    b.wait('the answer', DONE)
    front(b, 'harbour-cafe.png')
    check(b.run(amount) == '11.02 lb 5kg', b.run(amount))
    retype(b, '#length', '5/8')
    b.wait('the answer', DONE)
    check('--weight 5kg' in b.run('return page.front.answer.command'), b.run('return page.front.answer.command'))
    retype(b, '#amount', '1.02')
    b.wait('the answer', 'return page.front.order.mass === "1.02lb" && ' + DONE[7:])
    press(b, '#units [value=mm]')
    b.wait('the answer', DONE)
    check(b.run(amount) == '0.4627 kg 1.02lb', b.run(amount))
    press(b, '#units [value=in]')
    b.wait('the answer', DONE)
    check(b.run(amount) == '1.02 lb 1.02lb', b.run(amount))
    press(b, '#units [value=mm]')
    press(b, '#standard')
    b.wait('the answer', DONE)
    front(b, 'night-ferry.png')


def test_a_wrong_file_says_what_the_command_says(b, downloads):
    path = os.path.join(downloads, 'no logo.png')
    with open(path, 'w', encoding='utf-8') as file:
        file.write('a letter')
    drop(b, path)
    b.wait('the line', 'return page.front.state === "refused"')
    line = b.find('#trouble-line').text()
    told = subprocess.run([LOGOCANE, 'no logo.png'], capture_output=True, text=True, cwd=downloads, check=False).stderr.strip()
    check(line and line in told, f'the page says "{line}", the command "{told}"')
    check(b.run('return document.querySelector("#answer .pictures").hidden'), 'there is a picture')
    press(b, '#shelf-list li:last-child .off')
    check(b.run('return page.shelf.every(logo => logo.file.name !== "no logo.png") && page.front !== null'), 'it is still there')


def test_the_keyboard_alone_reaches_all(b, _):
    front(b, 'night-ferry.png')
    b.run('document.body.tabIndex = -1; document.body.focus(); document.body.removeAttribute("tabindex")')
    seen = []
    for _ in range(90):
        b.keys(TAB)
        at = b.run("""const at = document.activeElement; if (at === document.body) return null;
            const style = getComputedStyle(at.matches('.pair input') ? at.nextElementSibling : at), box = at.getBoundingClientRect();
            return {key: at.id || at.dataset.key || at.dataset.file || at.textContent, outline: style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2,
                    inside: box.bottom > 0 && box.top < innerHeight, name: at.ariaLabel || at.textContent || at.labels?.[0]?.textContent || at.title}""")
        if at is None:
            break
        check(at['outline'], f"the focus is not seen on {at['key']}")
        check(at['inside'], f"{at['key']} has the focus out of sight")
        seen.append(at['key'])
    for key in ('another', 'logo-large', 'face-large', 'advice 0', 'marks', 'amount', 'amount-unit', 'across', 'length', 'colours', 'field', 'jacket', 'detail',
                'ink #C9303A', 'place 1', 'name', 'until', 'copy', 'mockup.jpg', 'bench.pdf', 'sweep'):
        check(key in seen, f'the keyboard does not reach {key}: {seen}')
    b.run('document.querySelector(\'[data-key="ink #C9303A"]\').focus()')
    b.keys(ENTER)
    b.wait('the candies', 'return document.getElementById("candy").open')
    b.keys(ESCAPE)
    check(b.run('return document.activeElement.dataset.key') == 'ink #C9303A', 'the focus does not come back')
    b.keys(ENTER)
    b.run('document.querySelector("#candy .candies + h3 + .candies button:nth-child(5)").focus()')
    b.keys(SPACE)
    b.wait('the answer', DONE)
    check(b.run('return page.front.answer.inks.at(-1).candy') == 'red', 'no candy was chosen by keys')
    check(b.run('return document.activeElement.dataset.key') == 'ink #C9303A', 'the focus is lost after the answer')
    b.keys((SHIFT, TAB))
    press(b, '#standard')
    b.wait('the answer', DONE)


def test_the_answer_stands_on_a_tablet_without_scrolling(b, _):
    front(b, 'night-ferry.png')
    b.size(1180, 820)
    low = b.run("""return ['verdict', 'logo-picture', 'face-picture', 'advised', 'true', 'amount', 'across', 'colours', 'field', 'jacket', 'detail', 'inks']
        .map(id => [id, document.getElementById(id).getBoundingClientRect().bottom]).filter(([, bottom]) => bottom > innerHeight || bottom <= 0)""")
    check(not low, f'below the edge: {low}')


def test_no_other_host_is_asked_and_nothing_is_complained_of(b, _):
    hosts = b.run('return performance.getEntriesByType("resource").map(one => new URL(one.name).origin).filter(one => one !== location.origin)')
    check(not hosts, f'asked were {hosts}')
    bad = [line for line in b.complaints() if not re.search('status of (403|409|422)', line)]
    check(not bad, '; '.join(bad))


# --- running them ---


def test_a_new_start_of_the_program_costs_no_logo(b, _):
    front(b, 'night-ferry.png')
    b.run('page.token = "of an earlier start"')
    retype(b, '#across', '17')
    b.wait('the answer', DONE)
    check(b.run('return page.token.length') == 32, 'the token is still the old one')
    b.run('page.token = "of an earlier start"; document.getElementById("away-said").textContent = ""')
    press(b, '#away [data-file="letter.txt"]')
    b.wait('the letter', 'return document.getElementById("away-said").textContent.endsWith("is in your downloads.")')
    b.run('bringToFront(page.shelf.find(logo => logo !== page.front))')
    check(b.run('return document.getElementById("away-said").textContent') == '', 'what was said of one logo stands beside another')
    front(b, 'night-ferry.png')
    press(b, '#standard')
    b.wait('the answer', DONE)


def test_a_wrong_number_goes_with_its_logo(b, _):
    retype(b, '#amount', '1.500')  # as German writes it
    check(b.run('return page.front.order.pieces') == 1500, 'a dot parts no thousands')
    retype(b, '#amount', 'some')
    check(b.run('return page.front.state === "wrong" && document.getElementById("copy").ariaDisabled === "true"'), 'the letter of another order can be copied')
    b.run('bringToFront(page.shelf.find(logo => logo !== page.front))')
    check(b.run('return !document.querySelector(".sentence [aria-invalid]")'), 'the field of another logo is marked')
    front(b, 'night-ferry.png')
    press(b, '#standard')
    b.wait('the answer', DONE)


def test_the_letter_is_written_anew_and_the_verdict_stays(b, _):
    letter = 'return document.getElementById("letter").textContent'
    b.wait('the letter', letter + '.includes("[ THE NAME OF THE JOB IS MISSING")')
    check('--' not in b.run(letter), 'the letter speaks of the command line')
    check(b.run('return document.querySelectorAll("#letter mark").length') == 2, 'its gaps are not marked')
    b.find('#name').type('Ferry')
    check(b.run('return document.getElementById("stamp").hidden || document.getElementById("pictures").classList.contains("old")') is False, 'verdict or pictures are gone')
    b.wait('the letter', letter + '.startsWith("Your logo as candy: Ferry")')
    b.wait('the answer', DONE)
    press(b, '#standard')
    check(b.run('return document.getElementById("name").value') == 'Ferry', 'the usual order has no name')
    retype(b, '#name', '\ue017')
    b.wait('the answer', DONE)


SHELF = 'return page.shelf.map(logo => [logo.file.name, logo.file.type, logo.file.size, JSON.stringify(logo.order)])'


def test_loading_anew_loses_no_logo_and_no_order(b, _):
    front(b, 'harbour-cafe.png')
    retype(b, '#across', '18')
    b.find('#name').type('Café')
    b.wait('the answer', DONE)
    before, said = b.run(SHELF), b.run(SEEN)
    check(len(before) == 2, f'on the shelf are {before}')
    b.open(b.address)
    b.wait('the answer', DONE)
    check(b.run(SHELF) == before, f'on the shelf are {b.run(SHELF)}, were {before}')
    check(b.run('return page.front.file.name') == 'harbour-cafe.png' and b.run(SEEN) == said, 'another logo or another answer is seen')
    check(b.run('return document.getElementById("across").value + document.getElementById("name").value') == '18Café', 'the order is not as typed')
    b.wait('all answers', 'return page.shelf.every(one => one.state === "done")')
    b.run('takeOff(page.shelf.find(logo => logo.file.name !== "harbour-cafe.png"))')
    b.open(b.address)
    b.wait('the answer', DONE)
    check([one[0] for one in b.run(SHELF)] == ['harbour-cafe.png'], 'what was taken off the shelf is there again')
    check(b.run('return Object.keys(localStorage).every(name => ["units", "screen"].includes(name))'), 'more is kept than this tab is open')


def test_what_is_too_large_to_be_kept_is_said(b, downloads):
    path = os.path.join(downloads, 'large.png')
    with open(sample('kite-shop.png'), 'rb') as small, open(path, 'wb') as file:
        file.write(small.read() + bytes(4000000))
    drop(b, path)
    b.wait('the logo', 'return page.front.file.name === "large.png"')
    check('large.png' in b.find('#not-kept').text(), 'nothing is said')
    check(b.run('const event = new Event("beforeunload", {cancelable: true}); dispatchEvent(event); return event.defaultPrevented'), 'it is dropped unasked')
    b.run('takeOff(page.front)')
    check(not b.run('const event = new Event("beforeunload", {cancelable: true}); dispatchEvent(event); return event.defaultPrevented'), 'the browser asks in vain')
    check(b.run('return document.getElementById("not-kept").hidden'), 'it is still said')
    # A store that is full keeps what it can: orders before files.
    b.run('let text = "x".repeat(1 << 20); while (text) try { sessionStorage.setItem("other" + text.length + Math.random(), text) } catch { text = text.slice(text.length / 2 + 1) }')
    drop(b, sample('night-ferry.png'))
    b.wait('the logo', 'return page.front.file.name === "night-ferry.png"')
    check('night-ferry.png' in b.find('#not-kept').text(), 'nothing is said')
    b.run('for (const name of Object.keys(sessionStorage)) if (name.startsWith("other")) sessionStorage.removeItem(name); takeOff(page.front)')


def test_all_is_forgotten_if_asked_for(b, _):
    b.run('window.confirm = text => { window.asked = text; return false }')
    press(b, '#forget')
    check(b.run('return asked === "Forget 1 logo?" && page.shelf.length === 1'), 'it was not asked, or forgotten all the same')
    b.run('window.confirm = () => true')
    press(b, '#forget')
    check(b.run('return page.shelf.length === 0 && !document.getElementById("start").hidden && document.activeElement.id === "choose"'), 'it is not forgotten')
    check(b.run('return Object.keys(sessionStorage).join()') == 'shelf', 'the tab has it still')
    b.open(b.address)
    b.wait('the page', 'return page.shop !== null')
    check(b.run('return page.shelf.length === 0'), 'it is there again')


def test_a_store_that_others_spoilt_does_no_harm(b, _):
    for spoilt in ('{"logos":[{"id":1},{"id":"x","order":null}]}', '[]', 'null', '{"logos":7}', 'no JSON'):
        b.run('sessionStorage.setItem("logo 1", "{}"); sessionStorage.setItem("shelf", arguments[0])', spoilt)
        b.open(b.address)
        b.wait('the page', 'return page.shop !== null && document.getElementById("version").textContent')
        check(b.run('return page.shelf.length === 0 && !document.getElementById("start").hidden'), f'a shelf comes of {spoilt}')
    drop(b, sample('kite-shop.png'))
    b.wait('the answer', DONE)
    b.run('takeOff(page.front)')


def test_a_picture_that_the_desktop_hands_over_is_on_the_page(b, downloads):
    name = 'their "logo" ä.png'
    shutil.copy(sample('kite-shop.png'), os.path.join(downloads, name))
    told = subprocess.run(['sh', 'src/page/open-page.sh', os.path.join(downloads, name)], text=True, capture_output=True,
                          env={**os.environ, 'BROWSER': 'echo', 'LOGOCANE_PAGE': b.address}, check=True)
    b.open('about:blank')
    b.open(told.stdout.strip())
    b.wait('the picture', 'return page.shelf.length === 1')
    check(b.run('return page.front.file.name') == "their _logo_ ä.png", 'the name is another')
    check(b.run('return location.hash') == '', 'its place stays in the address')
    b.wait('the answer', DONE)


def serve(kept):
    """The program with its page on any free port; the process and the address."""
    process = subprocess.Popen([LOGOCANE, '--page=127.0.0.1:0', '-o', kept], stdout=subprocess.PIPE, text=True)
    line = process.stdout.readline()
    found = re.match(r'the page is (http://\S+)', line)
    if not found:
        raise Failed(f'no page is served: {line}')
    return process, found.group(1)


def run_all(b, downloads):
    only = sys.argv[3:]
    tests = [(name[5:].replace('_', ' '), test) for name, test in globals().items() if name.startswith('test_')]
    tests = [(name, test) for name, test in tests if not only or any(word in name for word in only)]
    failed = []
    for name, test in tests:
        start = time.monotonic()
        try:
            test(b, downloads)
        except Failed as fault:
            failed.append(name)
            print(f'FAILED: {name}: {fault}', flush=True)
            b.picture(os.path.join(OUT, 'failed.png'), whole=False)
        else:
            print(f'passed: {name} ({time.monotonic() - start:.1f} s)', flush=True)
    print(f'{len(tests) - len(failed)} passed, {len(failed)} failed')
    return not failed


def main():
    os.makedirs(OUT, exist_ok=True)
    downloads = tempfile.mkdtemp()
    kept = os.path.join(downloads, 'kept')
    os.mkdir(kept)
    server, address = serve(kept)
    try:
        with Browser(downloads) as b:
            b.address = address
            b.size(1180, 820)
            b.open(address)
            b.wait('the page', 'return page.shop !== null')
            good = run_all(b, downloads)
    finally:
        server.terminate()
        server.wait()
        shutil.rmtree(downloads)
    sys.exit(0 if good else 1)


main()
