"""The list of a class, as people type it and as other systems export it.

The headings of exports ("First name", "Last name", "ID number", "Email address"; "Student", "ID",
"SIS User ID", "SIS Login ID", "Section") are from memory of those systems' documentation.
"""

import pytest

from steelthermo.base import InputError
from steelthermo.coursekit.sheet import load_roster


def read(tmp_path, data):
    (tmp_path / "class.csv").write_bytes(data if isinstance(data, bytes) else data.encode())
    return load_roster(tmp_path / "class.csv")


OWN = "id,name,email,group\n7,Jörg Hollmann,j@x.example,A\n8,Ada Lind,a@x.example,B\n"
PEOPLE = [("7", "Jörg Hollmann", "j@x.example", "A"), ("8", "Ada Lind", "a@x.example", "B")]


@pytest.mark.parametrize(
    "data",
    [
        OWN,
        OWN.replace(",", ";"),
        "sep=;\r\n" + OWN.replace(",", ";"),
        OWN.replace(",", "\t"),
        OWN.encode("utf-16"),
        OWN.encode("utf-8-sig"),
        OWN.encode("cp1252"),
        OWN.replace("\n", "\r\n"),
        "First name,Last name,ID number,Email address,Group\n"
        "Jörg,Hollmann,7,j@x.example,A\nAda,Lind,8,a@x.example,B\n",
        "Nachname;Vorname;Matrikelnummer;E-Mail;Gruppe\n"
        "Hollmann;Jörg;7;j@x.example;A\nLind;Ada;8;a@x.example;B\n",
        "Student,ID,SIS User ID,SIS Login ID,Section,email\n    Points Possible,,,,,\n"
        "Jörg Hollmann,901,7,jh,A,j@x.example\nAda Lind,902,8,al,B,a@x.example\n",
    ],
)
def test_exports_of_many_kinds(tmp_path, data):
    roster = read(tmp_path, data)
    assert [(p.id, p.name, p.email, p.group) for p in roster.people] == PEOPLE
    assert "2 names read" in roster.told[0] and "from Jörg Hollmann to Ada Lind" in roster.told[0]


@pytest.mark.parametrize(
    "data, names",
    [
        ("name,mark\nAda,1\nBram,2\n", ["Ada", "Bram"]),
        ("Nr;Learner\r\n1;Zoë\r\n;\r\n3;Çelik\r\n", ["Zoë", "Çelik"]),
        ("Ada\nBram\n", ["Ada", "Bram"]),
        ('"Österberg, Ada";x\n"Lind, Bram";y\n'.encode("cp1252"), ["Österberg, Ada", "Lind, Bram"]),
    ],
)
def test_lists_of_names(tmp_path, data, names):
    assert [one.name for one in read(tmp_path, data).people] == names


@pytest.mark.parametrize(
    "data, told",
    [
        (b"PK\3\4 a workbook", "Save it from the spreadsheet as CSV"),
        ("Schmidt, Anna\nLind, Ada\n", "no row of headings"),
        ('id,name\n1,"Ada\n2,Bram\n', "opened and not closed"),
        ("id,name\n1,Ada\n1,Bram\n", "the number 1 stands there 2 times"),
        (f"id,name\n1,{'A' * 81}\n", "line 2: the name has 81 characters"),
        ("id,name\n1,\n", "line 2 has a number and no name"),
        ("name\n", "holds no name"),
        ("name\nAda\n".encode("utf-16-le"), "no text in UTF-8 or UTF-16"),
        ("name\n" + "Ada Lind\n" * 200_000, "more than 1 MB"),
    ],
)
def test_what_cannot_be_a_list_is_refused_in_words(tmp_path, data, told):
    with pytest.raises(InputError, match=told):
        read(tmp_path, data)


def test_namesakes_without_a_number_sign_in_with_their_address_or_are_told(tmp_path):
    roster = read(tmp_path, "name,email\nAda Lind,a@x.example\nada lind,b@x.example\nBram,\n")
    assert [one.signs for one in roster.people] == [
        "Ada Lind (a@x.example)",
        "ada lind (b@x.example)",
        "Bram",
    ]
    assert roster.person("ada lind (B@x.example)").email == "b@x.example" and len(roster.told) == 1
    told = read(tmp_path, "name\nAda Lind\nada lind\nBram\n").told[-1]
    assert told.startswith("ada lind: the same name") and "Bram" not in told


def test_one_group_of_a_class(tmp_path):
    (tmp_path / "class.csv").write_text("name,group\nAda,Tue A\nBram,Thu\nCem,tue  a\nDara,\n")
    whole = load_roster(tmp_path / "class.csv")
    tuesday = whole.of_group("TUE A")
    assert [one.name for one in tuesday.people] == ["Ada", "Cem"] and whole.of_group(None) is whole
    assert tuesday.told[-1] == "2 of them are of the group Tue A."
    with pytest.raises(InputError, match="Wed was asked for; the groups of .*: tue  a, Thu"):
        whole.of_group("Wed")
    (tmp_path / "class.csv").write_text("Ada\nBram\n")
    with pytest.raises(InputError, match="no column group"):
        load_roster(tmp_path / "class.csv").of_group("Wed")


def test_namesakes_sign_in_with_their_number(tmp_path):
    roster = read(tmp_path, "id,name\n1,Ada Lind\n2,ada  lind\n3,Bram\n")
    assert [one.signs for one in roster.people] == ["Ada Lind (1)", "ada  lind (2)", "Bram"]
    assert roster.person("ADA LIND (2)").id == "2" and roster.person("bram").id == "3"
    assert roster.person("Ada Lind") is None and roster.person("nobody") is None
    assert roster.person("Ada Lind", "in/2_ada-lind-12345678.sheet.txt").id == "2"
