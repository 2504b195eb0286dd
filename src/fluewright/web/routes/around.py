"""All pages around the visit, gathered for the app."""

from fluewright.web.routes import Routes, entering, moving, people, rules, settling, shelving, things

ROUTES: Routes = (
    *entering.ROUTES,
    *things.ROUTES,
    *shelving.ROUTES,
    *rules.ROUTES,
    *settling.ROUTES,
    *moving.ROUTES,
    *people.ROUTES,
)
"""Method, path, handler and right; where one enters something new stands before where something is shown."""
