#!/bin/sh
# The page over plain HTTP, with the real program: what it answers for samples is what the command says and writes,
# byte for byte; what it keeps; a sweep row by row; that its memory stays small; that it ends.
build=$(cd "${BUILD:-build}" && pwd)
BUILD=$build exec /usr/bin/python3 - "$@" <<'END_OF_CHECK'
import filecmp, http.client, io, json, os, re, shutil, signal, subprocess, sys, threading, time, zipfile
build = os.environ["BUILD"]
program, work = build + "/logocane", build + "/page-check"
san = "san" in build or os.environ.get("FEW")
logo = os.path.abspath("samples/kite-shop.png")
shutil.rmtree(work, ignore_errors=True)
os.makedirs(work)
failed = []

def check(what, good):
    if not good:
        failed.append(what)
        print("page: %s: not so" % what)

server = subprocess.Popen([program, "--page=127.0.0.1:0", "--page-host", "candy.example", "-k", "3", "-o", work + "/kept"], stdout=subprocess.PIPE, text=True)
try:
    said = server.stdout.readline()
    at = re.match(r"the page is http://(127\.0\.0\.1:\d+)/ \(Ctrl-C ends it\)\n", said).group(1)

    def ask(path, parts=(), data=None, token=None):
        connection = http.client.HTTPConnection(at, timeout=120)
        if token is None:
            connection.request("GET", path)
            return connection.getresponse()
        body = b""
        for name, value in parts:
            body += ('--edge\r\nContent-Disposition: form-data; name="%s"\r\n\r\n%s\r\n' % (name, value)).encode()
        body += b'--edge\r\nContent-Disposition: form-data; name="logo"; filename="kite-shop.png"\r\n\r\n' + data + b"\r\n--edge--\r\n"
        connection.request("POST", path, body, {"Content-Type": "multipart/form-data; boundary=edge", "X-Logocane-Token": token})
        return connection.getresponse()

    html = ask("/").read().decode()
    token = re.search(r'name="token" content="([0-9a-f]{32})"', html).group(1)
    shop = json.load(ask("/shop"))
    check("the shop", shop["keep"] and shop["standard"]["colours"] == 3 and len(shop["candies"]) > 10 and not shop["prices"])
    picture = open(logo, "rb").read()

    answer = ask("/answer", [("pieces", "500")], picture, token)
    lines = [json.loads(line) for line in answer]
    check("an answer in two lines", answer.status == 200 and [line["stage"] for line in lines] == ["drawn", "advised"])
    check("the verdict", lines[0]["verdict"] == "go" and lines[0]["name"] == "kite-shop")

    def line_of(parts, data, path="/answer"):
        answer = ask(path, parts, data, token)
        return answer.status, json.load(answer)["line"]
    command = subprocess.run([program, "-n", "0", logo], capture_output=True, text=True).stderr
    check("a wrong number in the command's words", "logocane: %s\n" % line_of([("pieces", "0")], picture)[1] == command)
    check("a wrong number is 422", line_of([("pieces", "0")], picture)[0] == 422)
    check("no picture is 422", line_of([], b"no picture") ==
          (422, "kite-shop.png: this is not a picture that can be read; have it sent as a PNG, 1000 px or more on its longer side"))
    check("a picture that is cut off is 422", line_of([], picture[:2000])[0] == 422)
    for name, value in (("output", "x"), ("shop", "/etc/passwd"), ("sweep", ""), ("page", ""), ("", "x"), ("quiet", "yes")):
        check("--%s is 400" % name, line_of([(name, value)], picture)[0] == 400)
    check("a flag is yes", line_of([("no-fine", "no")], picture)[0] == 422)
    check("of a mass no sweep", line_of([("weight", "5kg")], picture, "/sweep")[0] == 422)
    check("files of a job only", line_of([("file", "../../etc/passwd")], picture, "/files")[0] == 400)

    # Drawing takes long with sanitizers, which bring nothing here that test_page does not.
    if not san:
        # The same bytes as the command's, the options in the same order: those of the start, then those of the question.
        options = [("pieces", "500"), ("jacket", "red,white"), ("no-fine", "yes")]
        typed = ["-k", "3", "-n", "500", "-j", "red,white", "--no-fine"]
        subprocess.run([program, "-q", "-o", work + "/command"] + typed + [logo])
        answer = ask("/files", options, picture, token)
        packed = answer.read()
        check("a ZIP of its name", 'filename="kite-shop.zip"' in answer.headers["Content-Disposition"])
        with zipfile.ZipFile(io.BytesIO(packed)) as archive:
            names = sorted(archive.namelist())
            check("the ZIP has the files", names == sorted(os.listdir(work + "/command")))
            for name in names:
                check("%s in the ZIP" % name, archive.read(name) == open("%s/command/%s" % (work, name), "rb").read())
        answer = ask("/files", options + [("file", "letter.txt")], picture, token)
        check("one file", answer.read() == open(work + "/command/letter.txt", "rb").read() and answer.headers["Content-Type"].startswith("text/plain"))
        answer = ask("/keep", options, picture, token)
        check("a folder is kept", answer.status == 200 and json.load(answer) == {"line": "kept in kite-shop", "folder": "kite-shop"})
        kept = filecmp.dircmp(work + "/command", work + "/kept/kite-shop")
        check("it is the command's", not (kept.left_only or kept.right_only) and
              all(filecmp.cmp("%s/command/%s" % (work, n), "%s/kept/kite-shop/%s" % (work, n), False) for n in kept.common_files))

    # Children that rest are not asked about a sweep.
    children = "/proc/%d/task/%d/children" % (server.pid, server.pid)

    def list_children():
        return set(open(children).read().split()) if os.path.exists(children) else set()

    def used(child):  # of the processor, in ticks
        return sum(int(field) for field in open("/proc/%s/stat" % child).read().rsplit(")", 1)[1].split()[11:13])

    resting = list_children()
    # The first rows of a sweep come before the last is known; who leaves then ends the work.
    answer = ask("/sweep", [("detail", "plain")], picture, token)
    rows = [json.loads(answer.readline()) for i in range(2)]
    check("rows of a sweep", all(row["face"] and row["pieces"] >= 250 and row["options"][0]["name"] == "piece" for row in rows))
    answer.close()
    for i in range(40):
        if not list_children() - resting:
            break
        time.sleep(0.05)
    check("nobody works for who has left", not list_children() - resting)
    before = {child: used(child) for child in list_children()}
    time.sleep(0.2)
    check("those that rest do nothing", all(used(child) == before[child] for child in list_children() & set(before)))
    if not san:
        status = open("/proc/%d/status" % server.pid).read()
        check("memory stays under 20 MB", int(re.search(r"VmRSS:\s+(\d+)", status).group(1)) < 20 * 1024)

    # A question is under way when the end comes.
    def quiet():
        try:
            ask("/sweep", [], picture, token).read()
        except (OSError, http.client.HTTPException):
            pass
    asking = threading.Thread(target=quiet)
    asking.start()
    time.sleep(0.2)
    begun = time.monotonic()
    server.send_signal(signal.SIGTERM)
    status = server.wait(20)
    check("it ends within a second, well", status == 0 and time.monotonic() - begun < 1)
    asking.join()
finally:
    server.kill()
    server.wait()
print("page: %d failed" % len(failed))
sys.exit(bool(failed))
END_OF_CHECK
