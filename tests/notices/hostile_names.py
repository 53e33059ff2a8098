"""Names as somebody might type them who wants to write the heads of our mails; each is delivered as it stands here.

Encoded words: RFC 2047 (2, 4 and 5 on where they stand, 6.2 and 7 on what readers make of them). Parameters with
percent signs: RFC 2231, 4. Quoted strings and comments: RFC 5322, 3.2.2 and 3.2.4.
"""

ENCODED_WORDS = [
    "=?utf-8?q?a=0d=0aBcc:_everyone@example.com?=",
    "=?UTF-8?Q?a=0D=0ABcc:=20everyone@example.com?=",
    "=?utf-8?b?YQ0KQmNjOiBldmVyeW9uZUBleGFtcGxlLmNvbQ==?=",
    "=?utf-8?B?DQoNCjxzY3JpcHQ+YWxlcnQoMSk8L3NjcmlwdD4=?=",
    "=?us-ascii?q?=0d=0aSubject:_paid?=", "=?iso-8859-1?q?=0aX-Evil:_1?=", "=?utf-16?b?DQAKAEIAYwBjADoA?=",
    "=?utf-7?q?+AA0ACg-Bcc:_x@example.com?=", "=?unknown-8bit?q?=0d=0aBcc:_x@example.com?=", "=?x-none?q?a?=",
    "=?utf-8*en?q?a=0d=0aBcc:_x@example.com?=",
    "Maren =?utf-8?q?=0d=0aBcc:_x@example.com?= Okafor", "Maren=?utf-8?q?=0d=0aBcc:_x@example.com?=Okafor",
    "=?utf-8?q?a?= =?utf-8?q?=0d=0aBcc:_x@example.com?=", "=?utf-8?q?=3D=3Futf-8=3Fq=3F=3D0d=3D0aBcc:=3F=3D?=",
    "=?utf-8?q?=?utf-8?q?=0d=0aBcc:_x?=?=", '"=?utf-8?q?=0d=0aBcc:_x@example.com?="', "(=?utf-8?q?=0d=0aBcc:_x?=)",
    "=?utf-8?q?=22_=3Cother@example.com=3E?=", "=?utf-8?q?a@example.com,?=", "<=?utf-8?q?x@example.com?=>",
    "=?utf-8?q?" + "=0d=0aBcc:_x@example.com_" * 9 + "?=", "=?utf-8?q?=0d=0a?= " * 12 + "end",
    "=?utf-8?q?unended", "=?=?=?=", "?=", "=?", "=??q??=", "Zoë =?utf-8?q?=0d=0aBcc:_x@example.com?= 玛伦",
]  # fmt: skip
PARAMETERS = [
    "utf-8''a%0d%0aBcc:%20x@example.com", '"; filename="other.exe', "a.json; filename*=utf-8''b%0d%0a", "%0d%0a",
    "a\\", 'a"b\\"c', "x" * 200, "../../receipt", "a; b=c",
]
QUOTED = [
    '"Maren" <other@example.com>', "Maren, Jonas; Ida:", "Maren (=?utf-8?q?x?=", "O’Brien, Jr. (Bob) \\", "a.b", ".",
    "Maren@example.com", "<>", "Maren <x@example.com>, Jonas", "undisclosed-recipients:;",
]  # fmt: skip
LONG = ["A" * 300, "Ångström " * 30 + "Å", "玛" * 150, "a " * 120 + "b", "😀" * 90]
NAMES = [*ENCODED_WORDS, *PARAMETERS, *QUOTED, *LONG]
