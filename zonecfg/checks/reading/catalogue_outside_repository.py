"""A catalogue lies outside the repository.

Why
    A plan that rests on a file elsewhere cannot be reviewed, and reading
    outside the repository is how a hostile plan would look around.
Wrong
    catalogue: [../../../stock/equipment.yaml]
Right
    Put the catalogue into the repository and name it by a relative path.

        catalogue: [../equipment.yaml]
"""

from zonecfg.checks.registry import Check

CHECK = Check("catalogue-outside-repository", "error", source="the plan's own format")
