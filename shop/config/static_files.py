"""Static files under names that carry a digest of their content."""

from whitenoise.storage import CompressedManifestStaticFilesStorage

# Django can rewrite the imports of every script, but reads comments as code and so
# stumbles over scripts of others; ours live in folders named js, one below the app.
_OUR_IMPORTS = (
    r"""(?P<matched>import(?P<names>\s[^;"']*)from\s*["'](?P<url>\.[^"']*)["'];)""",
    'import%(names)sfrom "%(url)s";',
)


class DigestNames(CompressedManifestStaticFilesStorage):  # type: ignore[misc]  # untyped base
    """Also rewrites the imports between our ES modules to the digest names."""

    patterns = (
        *CompressedManifestStaticFilesStorage.patterns,
        ("shop/js/*.js", (_OUR_IMPORTS,)),
        ("diagnostics/js/*.js", (_OUR_IMPORTS,)),
    )
