"""Static files under names that carry a digest of their content."""

from whitenoise.storage import CompressedManifestStaticFilesStorage


class DigestNames(CompressedManifestStaticFilesStorage):  # type: ignore[misc]  # untyped base
    """Also rewrites the imports between our ES modules to the digest names."""

    support_js_module_import_aggregation = True
