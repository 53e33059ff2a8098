"""Delivery status notifications as mail servers send them: the examples of RFC 3464, Appendix E, with a letter of ours
as what came back, and what servers do differently."""

HEAD = """\
From: Mail Delivery Subsystem <MAILER-DAEMON@mail.example.com>
To: office@brackwater.example.com
Subject: Returned mail: {subject}
MIME-Version: 1.0
Content-Type: multipart/report; report-type=delivery-status;
      boundary="RAA14128.773615765/mail.example.com"

--RAA14128.773615765/mail.example.com

   ----- The following addresses had delivery problems -----
<{to}>  (unrecoverable error)

--RAA14128.773615765/mail.example.com
Content-Type: message/delivery-status

"""
FOOT = """
--RAA14128.773615765/mail.example.com
Content-Type: {kind}

From: Brackwater Remodeling <office@brackwater.example.com>
To: Maren Okafor <maren@example.org>
Subject: Okafor house, question 6: please answer
Message-ID: <{key}@portal.example.org>
{body}
--RAA14128.773615765/mail.example.com--
"""
# E.1, a simple one: the mailbox has moved nowhere, RFC 3463's 4.0.0 and what the server said.
E1 = """\
Reporting-MTA: dns; mail.example.com

Original-Recipient: rfc822;maren@example.org
Final-Recipient: rfc822;maren@example.org
Action: failed
Status: 4.0.0
Diagnostic-Code: smtp; 426 connection timed out
Last-Attempt-Date: Thu, 7 Jul 1994 17:15:49 -0400
"""
# E.2, several recipients: the first was delivered, the second failed for good.
E2 = """\
Reporting-MTA: dns; mail.example.com

Original-Recipient: rfc822;arathib@vnet.example.com
Final-Recipient: rfc822;arathib@vnet.example.com
Action: delivered
Status: 2.0.0

Original-Recipient: rfc822;maren@example.org
Final-Recipient: rfc822;maren@example.org
Action: failed
Status: 5.1.1
Diagnostic-Code: smtp; 550 user unknown
"""
# E.4, delayed: it is still tried.
E4 = """\
Reporting-MTA: dns; sun2.example.com

Final-Recipient: rfc822; maren@example.org
Original-Recipient: rfc822;maren@example.org
Action: delayed
Status: 4.0.0
Diagnostic-Code: smtp; 426 connection timed out
Will-Retry-Until: Tue, 5 Jul 1994 21:31:51 -0700
"""
# By the envelope's name alone (RFC 3464, 2.2.1), folded, in other letters, with a comment after the status.
BY_ENVELOPE = """\
Original-Envelope-Id: {key}
Reporting-MTA: dns; mx.example.org
Arrival-Date: Wed, 2 Dec 2026 13:30:00 +0000

FINAL-RECIPIENT: RFC822; Maren@Example.org
ACTION: Failed
STATUS: 5.2.1 (disabled)
DIAGNOSTIC-CODE: SMTP; 550-5.2.1 The account
      is disabled. See <https://example.org/p/550>
"""


def notification(status: str, key: str, kind: str = "message/rfc822", body: str = "\nHello Maren Okafor,\n") -> bytes:
    """`kind` of what came back: the letter, or no more than its head (`text/rfc822-headers`)."""
    text = (HEAD + status + FOOT).replace("{key}", key).replace("{kind}", kind).replace("{body}", body)
    text = text.replace("{subject}", "unable to deliver mail").replace("{to}", "maren@example.org")
    return text.replace("\n", "\r\n").encode()
