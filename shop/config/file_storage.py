"""Where files lie: a folder of this machine, or S3-compatible object storage."""

from urllib.parse import parse_qsl, unquote, urlsplit

from django.core.exceptions import ImproperlyConfigured

from shop.config.env import env_secret

_KNOWN = {"endpoint", "region"}


def storage_from_url(url: str) -> dict[str, object]:
    """Return Django's storage for `disk://` or `s3://bucket/folder?endpoint=https://...`.

    Nothing in the bucket is ever public: files go out through the service alone. The
    keys have variables of their own, so that they can come from files; without them
    the machine's own role is used.
    """
    parts = urlsplit(url)
    if parts.scheme == "disk" and not parts.netloc and not parts.path.strip("/"):
        return {"BACKEND": "django.core.files.storage.FileSystemStorage"}
    said = dict(parse_qsl(parts.query))
    if parts.scheme != "s3" or not parts.netloc:
        raise ImproperlyConfigured(
            f"LOOM_FILES_URL={url!r} is neither disk:// nor s3://bucket"
        )
    if unknown := sorted(set(said) - _KNOWN):
        raise ImproperlyConfigured(
            f"LOOM_FILES_URL: {', '.join(unknown)} is none of endpoint, region"
        )
    return {
        "BACKEND": "storages.backends.s3.S3Storage",
        "OPTIONS": {
            "bucket_name": unquote(parts.netloc),
            "location": unquote(parts.path.strip("/")),
            "endpoint_url": said.get("endpoint"),
            "region_name": said.get("region"),
            "access_key": env_secret("LOOM_FILES_KEY_ID"),
            "secret_key": env_secret("LOOM_FILES_KEY"),
            "default_acl": None,
            "querystring_auth": True,
            "file_overwrite": False,
            "signature_version": "s3v4",
        },
    }
