"""The whole plan: its sections in their order, and what stands in each."""

from typing import Annotated, Literal

from zonecfg.model.actuator import Actuator
from zonecfg.model.behaviour import Group, StrongWind, WetWeather
from zonecfg.model.building import Room, SiteInfo
from zonecfg.model.controller import Controller
from zonecfg.model.evidence import Acceptance, Record, Saved
from zonecfg.model.fields import NODES, Part, field, refers, section
from zonecfg.model.opening import Opening
from zonecfg.model.sensor import Sensor
from zonecfg.model.wiring import Cable, Junction, Supply

SITE_FORMAT = "zonecfg-site/1"
CATALOGUE_FORMAT = "zonecfg-catalogue/1"
STATES = ("as-designed", "as-commissioned", "saved")

State = Literal["as-designed", "as-commissioned", "saved"]


class Types(Part, frozen=True, kw_only=True):
    """The types of a plan or catalogue: a type of any section may hold any field of that section's things."""

    openings: Annotated[dict[str, Opening], section("Types of openings by id.")] = {}
    actuators: Annotated[dict[str, Actuator], section("Types of actuators by id.")] = {}
    controllers: Annotated[dict[str, Controller], section("Types of controllers by id.")] = {}
    sensors: Annotated[dict[str, Sensor], section("Types of sensors by id.")] = {}
    supplies: Annotated[dict[str, Supply], section("Types of supplies by id.")] = {}
    cables: Annotated[dict[str, Cable], section("Types of cables by id.")] = {}


class Plan(Part, frozen=True, kw_only=True):
    """One state of one site: its motorised windows, how they are wired, grouped and tested."""

    format: Annotated[Literal["zonecfg-site/1"], field("The format of this file.", required=True)] | None = None
    state: (
        Annotated[
            State,
            field("What the file tells: the plan, what stands on site, or a copy a controller saved.", required=True),
        ]
        | None
    ) = None
    site: Annotated[SiteInfo, section("What the whole site has in common.", required=True, touches="record")] | None = (
        None
    )
    catalogue: (
        Annotated[tuple[str, ...], section("Relative paths of catalogue files, inside the repository.")] | None
    ) = None
    house: (
        Annotated[tuple[str, ...], section("Relative paths of the team's own JSON Schemas, inside the repository.")]
        | None
    ) = None
    types: Annotated[Types, section("Types by section and id: fields that things of a type have in common.")] | None = (
        None
    )
    rooms: Annotated[dict[str, Room], section("Rooms by id.", touches="air")] = {}
    openings: Annotated[dict[str, Opening], section("Openings, each a sash in a frame, by id.", touches="safety")] = {}
    controllers: Annotated[dict[str, Controller], section("Controllers by id.", touches="operation", node=True)] = {}
    supplies: Annotated[dict[str, Supply], section("Power supplies by id.", touches="electrical", node=True)] = {}
    actuators: Annotated[dict[str, Actuator], section("Actuators by id.", touches="operation", node=True)] = {}
    groups: Annotated[
        dict[str, Group],
        section("Groups of actuators that move together, by id.", touches="operation", setting=True),
    ] = {}
    sensors: Annotated[dict[str, Sensor], section("Rain and wind sensors by id.", touches="weather", node=True)] = {}
    links: Annotated[
        dict[
            str, Annotated[tuple[str, ...], refers("groups", "Groups the sensor acts on, one id a line.", example=[])]
        ],
        section(
            "What each sensor acts on: sensor id to a list of group ids.",
            touches="weather",
            keyed_by="sensors",
            setting=True,
        ),
    ] = {}
    wet_weather: Annotated[
        dict[str, WetWeather],
        section(
            "What each group does while a linked rain sensor is wet, by group.",
            touches="weather",
            keyed_by="groups",
            setting=True,
        ),
    ] = {}
    strong_wind: Annotated[
        dict[str, StrongWind],
        section(
            "What each group does after strong wind, by group.", touches="weather", keyed_by="groups", setting=True
        ),
    ] = {}
    junctions: Annotated[
        dict[str, Junction], section("Boxes where cables meet, by id.", touches="electrical", node=True)
    ] = {}
    cables: Annotated[dict[str, Cable], section("Cables by id.", touches="electrical")] = {}
    terminators: Annotated[
        tuple[str, ...], section("Nodes that carry a bus termination resistor.", touches="electrical", refers=NODES)
    ] = ()
    record: Annotated[Record, section("What was seen and tested on site.", touches="record")] | None = None
    saved: Annotated[Saved, section("Where a saved copy is from.", touches="record")] | None = None
    accepted: Annotated[
        tuple[Acceptance, ...],
        section("Findings that people decided to live with.", touches="record", known_by=("check", "at")),
    ] = ()
