"""Why a backup is not made, or not restored: one class a reason, each with what to do."""

from portal.store.refusals import Refused


class NothingToSave(Refused):
    sentence = (
        "{path} is not there, so a backup would be of no use. "
        "Look whether PORTAL_DATA, PORTAL_DATABASE and PORTAL_SECRET_FILE are set as for the service."
    )


class NoPlaceForBackup(Refused):
    sentence = "The backup can't be written to {path}: {reason}"


class NotSaved(Refused):
    """The disk did not take it, or would not give something."""

    status = 507
    sentence = "No backup was made: {path}: {reason}. Earlier backups are as they were."


class KeysChange(Refused):
    sentence = "The keys are being changed just now, so no backup was made. Try again when that is done."


class NoBackup(Refused):
    sentence = "{path} can't be used: {reason}. Nothing was changed."


class HoldsNoHeads(Refused):
    sentence = (
        "{path} was made by a version of the portal that did not note how long the records were, so nothing can be "
        "compared with it. Restore it on another machine and run portal verify there."
    )


class Altered(Refused):
    sentence = "{path} was cut short or altered: {member}: {reason}. Nothing was changed. Use another backup."


class MadeByNewer(Refused):
    sentence = (
        "{path} was made by a newer version of the portal than this one ({what}). Nothing was changed. "
        "Install that version or a later one, then restore."
    )


class OtherDatabase(Refused):
    sentence = (
        "{path} holds a {held} database, and PORTAL_DATABASE names a {named} one. Nothing was changed. "
        "Set PORTAL_DATABASE as it was on the old server."
    )


class Occupied(Refused):
    sentence = (
        "There is something already: {paths}. Nothing was changed. To keep that aside and put the backup in its "
        "place, stop the service and give --move-old-aside."
    )


class WrongUser(Refused):
    sentence = (
        "{path} belongs to the user {user}, and what another one writes there the service can't read. "
        "Nothing was changed. Run this as {user}."
    )


class NotRestored(Refused):
    status = 507
    sentence = "Nothing was restored, and all is as it was: {path}: {reason}."
