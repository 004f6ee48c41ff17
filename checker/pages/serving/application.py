"""One application of pages: what is shown, what is taken, and how a refusal looks.

Every form comes in by `ServedPage.take`, which is handed only what bears the right token: no page can forget to look.
"""

from __future__ import annotations

import inspect
from collections.abc import Awaitable, Callable, Collection, Mapping, Sequence
from threading import Event
from typing import Any

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import Route

from checker.pages.serving.assets import Assets
from checker.pages.serving.guarding import LARGEST_BYTES, Guard
from checker.pages.serving.tokens import FIELD, is_sealed, is_visit, new_secret, new_visit, sealed
from checker.reading.problems import InputError, Problem
from checker.reading.quick_dataclasses import KW_ONLY, dataclass, field
from checker.report.html.rendering import environment

Show = Callable[[Request], Response | Awaitable[Response]]
Take = Callable[[Request, FormData], Response | Awaitable[Response]]

_FORM = "form"


@dataclass(frozen=True, slots=True)
class ServedPage:
    """One address. A plain function is called in a thread of its own, an asynchronous one is awaited."""

    path: str
    show: Show | None = None
    """Answers GET."""
    take: Take | None = None
    """Answers POST; it is handed the form, whose token was right."""
    _: KW_ONLY
    admit: Callable[[Request], object] | None = None
    """Called before anything that is sent is read: it raises `HTTPException` for who may send nothing."""
    largest_bytes: int = 0
    """Of what is sent to it; 0 where the site's own bound will do."""


@dataclass(frozen=True, slots=True)
class Site:
    """What an application of pages is made of."""

    pages: Sequence[ServedPage]
    hosts: Collection[str]
    """By what it may be asked for, as `checker.pages.serving.listening.hosts_of` tells."""
    rooms: Sequence[str] = ()
    """The packages whose folder `templates` holds its templates."""
    assets: Mapping[str, bytes] = field(default_factory=dict)
    """Its own styles and scripts, by name."""
    _: KW_ONLY
    scheme: str = "http"
    largest_bytes: int = LARGEST_BYTES
    most_fields: int = 2000
    """Of one form."""
    secret: bytes = field(default_factory=new_secret)
    complain: Callable[[Exception], object] = lambda _: None
    """Is told of a mistake of our own."""


def application(site: Site) -> Starlette:
    """The application; `checker.pages.serving.running.serve` runs it."""
    assets = Assets(site.assets)
    guard = Middleware(
        Guard,
        hosts=frozenset(site.hosts),
        scheme=site.scheme,
        largest_bytes=site.largest_bytes,
        larger={page.path: page.largest_bytes for page in site.pages if page.largest_bytes},
        refused=_refused,
    )
    made = Starlette(
        routes=[*(_route(page) for page in site.pages), *assets.routes(), Route("/favicon.ico", _no_icon)],
        middleware=[guard],
        exception_handlers={HTTPException: _refused},
    )
    made.router.redirect_slashes = False
    made.state.site, made.state.assets, made.state.ending = site, assets, Event()
    return made


def page(
    request: Request, template: str, *, status: int = 200, layout: str = "served.html", **values: Any
) -> HTMLResponse:
    """A page from a template, which may extend `served.html`; the template of a report stands in the frame `layout`."""
    site: Site = request.app.state.site
    rooms = environment(*site.rooms, __package__ or "")
    made = rooms.get_template(f"{template}.html").render(
        layout=layout,
        assets=request.app.state.assets.addresses,
        own_assets=list(site.assets),
        token=sealed(site.secret, _FORM, visit_of(request)),
        **values,
    )
    return HTMLResponse(made, status)


def visit_of(request: Request) -> str:
    """The name of the browser that asks."""
    if not hasattr(request.state, "visit"):
        given = request.cookies.get(_cookie(request), "")
        request.state.is_new = not is_visit(given)
        request.state.visit = new_visit() if request.state.is_new else given
    visit: str = request.state.visit
    return visit


def put_cookie(
    request: Request, response: Response, name: str, value: str, seconds: int | None = None
) -> None:
    """A cookie that no script reads and no other site's request carries, for this server alone."""
    secure = request.app.state.site.scheme == "https"
    response.set_cookie(
        cookie_name(request, name), value, seconds, path="/", secure=secure, httponly=True, samesite="strict"
    )


def cookie_name(request: Request, name: str) -> str:
    """Cookies are shared by all ports of a machine, so each server's bear its own."""
    return f"checker-{name}-{request.scope['server'][1]}"


def _cookie(request: Request) -> str:
    return cookie_name(request, "visit")


# -- each request --------------------------------------------------------------------------------------------


def _route(page: ServedPage) -> Route:
    async def answer(request: Request) -> Response:
        try:
            if request.method == "POST":
                assert page.take is not None
                if page.admit is not None:
                    await run_in_threadpool(page.admit, request)
                return await _called(page.take, request, await _form(request))
            assert page.show is not None
            response = await _called(page.show, request)
        except InputError as error:
            return refused(request, 422, "Not taken", [in_words(one) for one in error.problems])
        except HTTPException:
            raise
        except Exception as error:
            return _own_mistake(request, error)
        finally:
            await request.close()
        if hasattr(request.state, "visit") and request.state.is_new:
            put_cookie(request, response, "visit", request.state.visit)
        return response

    methods = [*(["GET"] if page.show else []), *(["POST"] if page.take else [])]
    return Route(page.path, answer, methods=methods)


async def _no_icon(_: Request) -> Response:
    """Browsers ask for one unasked, and count its absence as a fault."""
    return Response(status_code=204)


async def _called(function: Callable[..., Any], *given: object) -> Response:
    if inspect.iscoroutinefunction(function):
        answer = await function(*given)
    else:
        answer = await run_in_threadpool(function, *given)
    assert isinstance(answer, Response)
    return answer


async def _form(request: Request) -> FormData:
    """What was sent, with the token that this browser's forms hold.

    Raises:
        HTTPException: 403, or 400 where it is no form.
    """
    site: Site = request.app.state.site
    form = await request.form(max_fields=site.most_fields, max_part_size=site.largest_bytes)
    token, visit = form.get(FIELD), visit_of(request)
    if request.state.is_new or not isinstance(token, str) or not is_sealed(site.secret, _FORM, visit, token):
        raise HTTPException(
            403,
            "This form was not shown to this browser, or is too old. Nothing was entered: load the page anew.",
        )
    return form


# -- refusals ------------------------------------------------------------------------------------------------


def refused(request: Request, status: int, title: str, told: Sequence[str]) -> HTMLResponse:
    """A plain page that says no."""
    return page(request, "refused", status=status, title=title, told=told)


def in_words(problem: Problem) -> str:
    """A mistake with its place and its cure."""
    place = f"{problem.span}: " if problem.span is not None else ""
    return place + ". ".join(filter(None, (problem.message, problem.hint)))


def _refused(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    title, told = {
        404: ("There is no such page", "Go back to the page that you came from."),
        405: ("This page is only looked at", "Go back to the page that you came from."),
    }.get(error.status_code, ("Not taken", error.detail))
    return refused(request, error.status_code, title, [told])


def _own_mistake(request: Request, error: Exception) -> Response:
    request.app.state.site.complain(error)
    return refused(
        request,
        500,
        "A mistake of this program’s own",
        ["Nothing on this page is a result. What was acknowledged before is in the record."],
    )
