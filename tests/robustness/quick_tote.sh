# Sourced: a scene that is solved as quickly as a tote can be.
# quick_tote FOLDER_OF_SCENES: its text; few triangles, few stitches, short straps, no contact
quick_tote() {
  sed 's/"size": "40 mm"/"size": "120 mm"/; s/"load_steps": 2/"load_steps": 1, "contact": false/
       s/"length": "50 cm"/"length": "32 cm", "attachment": { "pattern": "rows", "rows": 2, "length": "24 mm", "stitch_length": "9 mm" }/' \
    "$1/page_tote.json"
}
