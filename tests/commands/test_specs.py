"""A build's spec sheet from the shell: shown, saved, filled."""

from .shell import NEW, SPECS, Shell


def test_it_is_saved_and_taken_by_check_and_by_a_new_build(shell: Shell) -> None:
    shell.ok(*NEW, "--specs", SPECS, "--name", "one", typed="")
    ran = shell("specs", "one", "--save", "one.yaml")
    assert (ran.code, ran.err) == (0, "snugset: left out: cover-torque: not answered yet\n")
    assert ran.out == "Saved: 46 figures in one.yaml\n"
    assert shell("check", "one.yaml").code == 0
    shell.ok(*NEW, "--specs", "one.yaml", "--name", "two", typed="")
    assert shell.ok("specs", "two").out == shell.ok("specs", "one").out.replace(
        "from the build one", "from the build two"
    )


def test_a_file_is_never_written_over(shell: Shell) -> None:
    shell.ok(*NEW, "--specs", SPECS, "--name", "one", typed="")
    shell("specs", "one", "--save", "one.yaml")
    ran = shell("specs", "one", "--save", "one.yaml")
    assert (ran.code, ran.err) == (1, "snugset: one.yaml is there already; give another name\n")


def test_filling_says_what_it_changes_and_takes_it_when_told(shell: Shell) -> None:
    shell.ok(*NEW, "--specs", SPECS, "--name", "one", typed="")
    file = shell.data.parent / "work" / "new.yaml"
    file.write_text(
        "snugset: specs/1\nfigures:\n  deck-flatness: {value: 2 thou, source: leaflet}\n", "utf-8"
    )
    ran = shell.ok("specs", "one", "--fill", "new.yaml")
    assert ran.out.startswith("deck-flatness: 2 thou = 0.051 mm — leaflet\n    now 0.003 in")
    assert "Nothing is taken yet" in ran.out
    assert "0.003 in" in shell.ok("specs", "one").out
    assert "Taken: 1 figure." in shell.ok("specs", "one", "--fill", "new.yaml", "--take").out
    assert "value: 2 thou" in shell.ok("specs", "one").out
    assert "The file changes nothing." in shell.ok("specs", "one", "--fill", "new.yaml").out


def test_a_mistake_is_told_with_its_place_and_changes_nothing(shell: Shell) -> None:
    shell.ok(*NEW, "--specs", SPECS, "--name", "one", typed="")
    before = shell.ok("specs", "one").out
    file = shell.data.parent / "work" / "new.yaml"
    file.write_text("snugset: specs/1\nfigures:\n  deck: {value: 2 thou, source: a}\n", "utf-8")
    for words in (("--fill", "new.yaml"), ("--fill", "new.yaml", "--take")):
        ran = shell("specs", "one", *words)
        assert ran.code == 1
        assert ran.err.startswith("new.yaml:3:9: the procedure asks for no figure “deck”")
        assert "\n        ^\n" in ran.err
    assert shell.ok("specs", "one").out == before


def test_what_does_not_go_together_is_refused(shell: Shell) -> None:
    shell.ok(*NEW, "--name", "one", typed="")
    assert shell("specs", "one", "--fill", "a", "--save", "b").code == 2
    assert shell("specs", "one", "--take").code == 2
