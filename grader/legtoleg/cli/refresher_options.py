"""What the commands of the refresher share: their arguments, a shop by its folder, and how a line is said."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from legtoleg.cli.terminal import say_line

if TYPE_CHECKING:
    from legtoleg.refresher.record.shop import Shop

Folder = Annotated[Path, typer.Argument(metavar="SHOP", help="The shop's folder.")]
Topics = Annotated[
    list[str] | None, typer.Option("--topic", help="A topic; several times for several. All critical ones.")
]
Day = Annotated[str | None, typer.Option("--on", help="The day at the shop, like 2027-03-01; today if left out.")]
By = Annotated[str, typer.Option("--by", help="Who enters or saw it.")]
Who = Annotated[str, typer.Option("--who", help="The person's id.")]


def shop_at(folder: Path) -> Shop:
    """Return the shop in ``folder``; say so if the note of its last hash is missing."""
    from legtoleg.ledger.noted_ledger import NOTE
    from legtoleg.refresher.record.shop import Shop

    here = Shop.at(folder)
    if not here.noted:
        say_line(
            f"! {NOTE} is missing, although the ledger has entries: someone has deleted it, and entries cut off at "
            f"the end would not be seen. Look for the hash of your last certificate or backup: legtoleg refresher "
            f"verify {folder} --kept HASH. The note is written again with the next entry."
        )
    return here
