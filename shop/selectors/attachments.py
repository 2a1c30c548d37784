"""Photos and documents: those of one thing, one by itself, and the file of one.

How other pages show them
-------------------------
A panel that loads itself, takes new photos and shows those that are there, on any
page that knows a bike, work order, strip tag or advisory:

    {% include "shop/attachments/slot.html" with about="strip-tag" about_id=tag.id %}

`about` is a value of `shop.domain.attachments.Subject`: "bike", "work-order",
"strip-tag", "advisory". The page needs no field of its own for it and runs no query.

For a list that shows one small picture a row, ask once for the whole list:

    first_photos(subject=Subject.STRIP_TAG, subject_ids=ids, viewer=viewer)

gives `{subject id: AttachmentRow}`; put its `thumbnail_url_id` into
`{% url 'shop:attachment_thumbnail' row.id %}` where `row.has_thumbnail`.

For a form that takes photos together with its own fields (a new strip tag), call the
action for each file after the row is made; it raises a `Refusal` with field "file":

    shop.actions.attachments.attach(subject=Subject.STRIP_TAG, subject_id=tag.pk,
        upload=Upload.of(file), caption="", acting_user=..., at=...)

For a time line of everything about one bike: `bike_attachments(bike_id=..., viewer=...)`.
"""
