"""``legtoleg class-files``: the files of a class beyond one computer."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from legtoleg.cli.terminal import say_line


def class_files(
    folder: Annotated[Path, typer.Argument(metavar="OUT", help="The folder to write into.")],
    on: Annotated[str, typer.Option(help="compose (one container host) or kubernetes.")],
    seats: Annotated[int, typer.Option(min=1, max=100_000, help="How many seats work at the same time.")],
    cohort: Annotated[str, typer.Option(help="With compose: the cohort's folder on the container host.")] = "",
    class_image: Annotated[str, typer.Option(help="The image of hub, class and marker.")] = "leg-to-leg-class:1",
    seat_image: Annotated[str, typer.Option(help="The image of a seat: it holds no marker.")] = "leg-to-leg-seat:1",
    proxy_image: Annotated[
        str, typer.Option(help="The image of the hub's proxy, named as your computers get it: with its host.")
    ] = "configurable-http-proxy:5",
    port: Annotated[int, typer.Option(min=1, max=65535, help="The public port.")] = 8400,
    tls: Annotated[bool, typer.Option(help="With compose: tls/cert.pem and tls/key.pem are next to it.")] = False,
    storage: Annotated[str, typer.Option(help="On kubernetes: the storage class that many nodes write to.")] = "shared",
    workers: Annotated[int, typer.Option(min=1, max=1000, help="Dask workers for grading.")] = 2,
    gib: Annotated[float, typer.Option(min=1, help="GiB of memory of one computer, for the arithmetic.")] = 16.0,
    cores: Annotated[int, typer.Option(min=1, help="Cores of one computer, for the arithmetic.")] = 8,
) -> None:
    """Write the files of a class on containers or on Kubernetes: image recipe, services, shared storage, books."""
    from legtoleg.classroom import container_files as files
    from legtoleg.classroom.container_settings import COMPOSE

    wish = files.Wish(on, seats, cohort, class_image, seat_image, proxy_image, port, tls, storage, workers)
    written = files.write_files(wish, folder)
    one = files.seats_on(gib, cores, files.ONE_SEAT_WARM)
    say_line(f"One computer of {gib:g} GiB and {cores} cores carries {one} working seats by “legtoleg class”:")
    say_line(
        f"    ({gib:g} - {files.BESIDE_SEATS:g}) GiB / {files.ONE_SEAT_WARM} MiB a seat, and at most "
        f"{files.SEATS_A_CORE} a core. You asked for {seats}: "
        f"{'that is enough, and simpler.' if seats <= one else 'that is too little.'}"
    )
    count = files.computers_for(seats, gib, cores)
    say_line(f"In containers ({files.ONE_SEAT_ALONE} MiB a seat): {count} such computer{'s' * (count != 1)}.")
    if on == COMPOSE and count > 1:
        say_line("! compose runs on one container host: take a larger one, or --on kubernetes.")
    for path in written:
        say_line(f"Written: {path}")
    say_line("Build the two images as the first lines of Containerfile say, then:")
    if proxy_image == files.PROXY_IMAGE:
        say_line(f"The proxy's image is {proxy_image}: have it on every computer, or name yours: --proxy-image.")
    start = "docker compose up -d" if on == COMPOSE else "kubectl apply -f secret.yaml -f class.yaml"
    say_line(f"    cd {folder} && {start}")
