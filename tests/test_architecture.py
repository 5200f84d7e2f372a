"""The build of the program: who imports whom, what is named where, what must not be said."""

import ast
import re
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
PACKAGE = ROOT / "roomboard"

# Folders that tools and builds make; nothing in them belongs to the project.
MADE_BY_TOOLS = re.compile(
    r"\.git|\.venv|__pycache__|build|dist|out|\..*_cache|\.hypothesis|.*\.egg-info"
)

HEAVY = {"PySide6", "shiboken6", "reportlab", "PIL", "ezdxf", "xlsxwriter", "highspy", "openpyxl"}


def files_of_the_project():
    """Every file but those made by tools, sorted."""
    found, folders = [], [ROOT]
    while folders:
        for path in folders.pop().iterdir():
            if MADE_BY_TOOLS.fullmatch(path.name):
                continue
            if path.is_dir():
                folders.append(path)
            else:
                found.append(path)
    return sorted(found)


def relative(path):
    return path.relative_to(ROOT).as_posix()


def modules(folder=PACKAGE):
    return sorted(folder.rglob("*.py"))


def imported_names(tree):
    """The top-level packages that a module imports, at its head or inside its functions."""
    names = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            names |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            names.add(node.module.split(".")[0])
    return names


# ------------------------------------------------------------------------------ who imports whom

# Runs import-linter on the folder it is started in, as packaging/test does.
LINT = "from importlinter.cli import lint_imports_command as lint; lint(['--no-cache'])"


def lint_imports(folder):
    return subprocess.run(
        [sys.executable, "-c", LINT], cwd=folder, capture_output=True, text=True, check=False
    )


def test_import_contracts_are_kept():
    done = lint_imports(ROOT)

    assert done.returncode == 0, done.stdout + done.stderr
    assert "3 kept, 0 broken" in done.stdout


@pytest.mark.parametrize(
    ("module", "line", "contract"),
    [
        ("core/findings.py", "import PySide6.QtCore", "Only the desk knows Qt"),
        ("core/findings.py", "from roomboard import drawing", "Dependencies point down"),
        ("core/findings.py", "import pathlib", "The trade and its drawings are pure"),
        ("drawing/__init__.py", "import reportlab", "The trade and its drawings are pure"),
        ("export/__init__.py", "import roomboard.storage", "Dependencies point down"),
    ],
)
def test_import_contracts_notice_a_breach(tmp_path, module, line, contract):
    shutil.copytree(PACKAGE, tmp_path / "roomboard")
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    broken = tmp_path / "roomboard" / module
    broken.write_text(broken.read_text(encoding="utf-8") + f"\n{line}\n", encoding="utf-8")

    done = lint_imports(tmp_path)

    assert done.returncode == 1
    assert re.search(rf"^{contract}.* BROKEN$", done.stdout, re.MULTILINE), done.stdout


def test_contracts_have_no_exceptions():
    text = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    contracts = tomllib.loads(text)["tool"]["importlinter"]["contracts"]

    allowed = {"id", "name", "type", "containers", "layers", "source_modules", "forbidden_modules"}
    assert [set(contract) - allowed for contract in contracts] == [set()] * len(contracts)


def test_only_declared_libraries_are_imported():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    declared = {re.split(r"[^\w-]", line)[0] for line in project["dependencies"]}
    # Some are imported by another name than they are installed by.
    named = {"PySide6-Essentials", "pillow"}
    allowed = (declared - named) | {"PySide6", "shiboken6", "PIL", "roomboard"}

    for path in modules():
        used = imported_names(ast.parse(path.read_text(encoding="utf-8")))
        assert used - allowed - sys.stdlib_module_names == set(), relative(path)


def test_the_command_line_starts_without_heavy_libraries():
    code = "import sys, roomboard.cli; print(*sorted({n.split('.')[0] for n in sys.modules}))"
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True
    )

    loaded = set(done.stdout.split())
    assert "roomboard" in loaded
    assert loaded & HEAVY == set()


# ------------------------------------------------------------------------------ what stands where


def test_every_package_is_installed():
    text = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    listed = tomllib.loads(text)["tool"]["setuptools"]["packages"]

    folders = sorted({path.parent for path in modules()})
    names = [folder.relative_to(ROOT).as_posix().replace("/", ".") for folder in folders]
    assert all((folder / "__init__.py").is_file() for folder in folders)
    assert sorted(listed) == sorted([*names, "roomboard.resources"])


def test_resources_have_one_reader():
    reader = PACKAGE / "storage" / "resources.py"
    place = re.compile(r"__file__|importlib[.]resources|importlib import resources|pkgutil")

    others = [path for path in modules() if path != reader]
    guilty = [relative(p) for p in others if place.search(p.read_text(encoding="utf-8"))]
    assert guilty == []


def test_no_module_has_a_name_that_says_nothing():
    empty_names = {"manager", "helper", "helpers", "utils", "util", "data", "misc", "common"}

    guilty = [relative(p) for p in modules() if empty_names & set(p.stem.split("_"))]
    assert guilty == []


# Lengths that a trade rule, a stock list or a frame would state. They belong in resources/.
TRADE_FIGURES = {
    *(150, 200, 230, 300, 350, 400, 406, 407, 410, 450, 457, 480, 488, 600, 610),
    *(900, 1200, 1219, 1220, 1350, 1372, 2040, 2400, 2438, 2440, 2700, 2743, 3000, 3048),
    *(3600, 3658, 4200, 4267, 4800, 4877, 5400, 6000),
}


def trade_figures_in(source):
    return [
        f"line {node.lineno}: {node.value}"
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.Constant)
        and type(node.value) in (int, float)
        and node.value in TRADE_FIGURES
    ]


def test_no_figure_of_the_trade_stands_in_the_core():
    found = {relative(p): trade_figures_in(p.read_text(encoding="utf-8")) for p in modules()}
    in_core = {name: lines for name, lines in found.items() if name.startswith("roomboard/core/")}
    del in_core["roomboard/core/units.py"]  # counts inches and millimetres, whatever they measure

    assert in_core
    assert {name: lines for name, lines in in_core.items() if lines} == {}


def test_a_figure_of_the_trade_would_be_noticed():
    assert trade_figures_in("spacing = 450\n") == ["line 1: 450"]
    assert trade_figures_in("def f(at=600.0): ...\n") == ["line 1: 600.0"]
    assert trade_figures_in("half = 2\n") == []


# ------------------------------------------------------------------------------ the documents

NAMED_PATH = re.compile(r"`((?:roomboard|resources|tests|packaging|[.]ci)/[\w./-]*)`")


def test_developers_page_names_every_folder():
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    parents = {path.parent for path in files_of_the_project()} - {ROOT}
    tops = ("roomboard", "resources", "tests", "packaging", ".ci")
    # Below tests/data each set of examples keeps its own order.
    folders = sorted(
        f"{relative(folder)}/"
        for folder in parents
        if relative(folder).split("/")[0] in tops
        and (ROOT / "tests" / "data") not in folder.parents
    )

    assert [folder for folder in folders if f"`{folder}`" not in text] == []


@pytest.mark.parametrize("document", ["README.md", "DEVELOPERS.md"])
def test_documents_name_only_what_exists(document):
    text = (ROOT / document).read_text(encoding="utf-8")

    named = NAMED_PATH.findall(text)
    assert named
    assert [name for name in named if not (ROOT / name).exists()] == []


def test_changelog_has_the_version():
    import roomboard

    changelog = (ROOT / "CHANGELOG.md").read_text(encoding="utf-8")
    assert f"## [{roomboard.__version__}]" in changelog


def test_documents_link_to_what_exists():
    for document in ("README.md", "DEVELOPERS.md", "CHANGELOG.md"):
        text = (ROOT / document).read_text(encoding="utf-8")
        for target in re.findall(r"\]\(([^)#:]+)\)", text):
            assert (ROOT / target).exists(), f"{document} points to {target}"


# ------------------------------------------------------------------------------ what is not said

# A file of the project speaks of lining rooms. These patterns speak of a machine or of a place of
# work instead. (Each is written so that it does not match itself.)
OUT_OF_PLACE = {
    "a path of one machine": r"(?<![\w.$}])/(?:wor[k]|tm[p]|roo[t]|hom[e]|op[t]|sr[v]|mn[t])/\w",
    "a path of one machine (Windows)": r"\b[A-Z]:\\User[s]",
    "a place of work": r"(?i)(?<!scope=\")(?<!pytest_)\b(?:sub-?)?sess[i]ons?\b",
    "an instruction to a machine": r"(?i)\bpromp[t](?:s|ed|ing)?\b",
    "who wrote it": r"(?i)\b(?:language mode[l]|chatbo[t]|LL[M]s?|sub-?agen[t]s?)\b",
    "a numbered request": r"(?i)\b(?:(?:this|next|later|earlier)\s+issu[e]\b|issu[e] ?#\d)",
    "notes that are not here": r"(?i)\b(?:handboo[k]|need[s]|engin[e]|toolchai[n]|brie[f])[.]md\b",
    "a package registry": r"(?i)\b(?:pyp[i][.]org|pythonhoste[d]|npmj[s]|crate[s][.]io"
    r"|prox[y][.]golang|registr[y][.][a-z])",
    "an address of a local machine": r"\b(?:localhos[t]|127[.]0[.]0[.]1)\b",
}


def out_of_place(text):
    return [
        f"line {text.count(chr(10), 0, match.start()) + 1}: {what}: {match.group()!r}"
        for what, pattern in OUT_OF_PLACE.items()
        for match in re.finditer(pattern, text)
    ]


def test_files_speak_of_the_project_alone():
    guilty, read = [], 0
    for path in files_of_the_project():
        guilty += [f"{relative(path)}: {text}" for text in out_of_place(relative(path))]
        try:
            text = path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue  # fonts, pictures
        read += 1
        guilty += [f"{relative(path)}: {line}" for line in out_of_place(text)]

    assert read > len(modules())
    assert guilty == []


@pytest.mark.parametrize(
    "text",
    [
        "see /" + "work/plan.txt",
        'open("/' + 'tmp/out.pdf")',
        "as the pro" + "mpt says",
        "in this ses" + "sion",
        "a later iss" + "ue does",
        "needs" + ".md",
        "https://py" + "pi.org/simple",
    ],
)
def test_a_word_out_of_place_would_be_noticed(text):
    assert len(out_of_place(text)) == 1


@pytest.mark.parametrize(
    "text", ['@pytest.fixture(scope="session")', "date of issue, issue 2", "a/b/work"]
)
def test_plain_words_pass(text):
    assert out_of_place(text) == []
