"""Dependencies of the package: durable-rules is added only where its C extension compiles and imports.

The package is source-only. Without a compiler or the Python headers a plain dependency would make the whole
installation fail, so a probe that uses the same call is compiled and imported first.
"""

import os
import subprocess
import sys
import sysconfig
import tempfile

from hatchling.metadata.plugin.interface import MetadataHookInterface

ALWAYS = ["msgspec>=0.18", "platformdirs>=4", "PyYAML>=6", "rapidfuzz>=3.6", "rich>=13", "typer>=0.12"]
ENGINE = "durable-rules==2.0.28"
PROBE = """
#define PY_SSIZE_T_CLEAN
#include <Python.h>
static struct PyModuleDef module = {PyModuleDef_HEAD_INIT, "probe", NULL, -1, NULL};
PyMODINIT_FUNC PyInit_probe(void) { return (void *)&%s == NULL ? NULL : PyModule_Create(&module); }
"""


def engine_can_be_built():
    """Whether a C extension that calls what durable-rules calls compiles and imports here."""
    if os.environ.get("ADVISOR_WITHOUT_ENGINE"):
        return False
    compiler = (os.environ.get("CC") or sysconfig.get_config_var("CC") or "cc").split()
    # Since Python 3.13 the old call is gone; the flag that the README sets maps it to the present one.
    mapped = "PyEval_CallObject=PyObject_CallObject" in os.environ.get("CPPFLAGS", "")
    call = "PyObject_CallObject" if mapped or sys.version_info < (3, 13) else "PyEval_CallObject"
    with tempfile.TemporaryDirectory() as folder:
        source = os.path.join(folder, "probe.c")
        built = os.path.join(folder, "probe" + (sysconfig.get_config_var("EXT_SUFFIX") or ".so"))
        with open(source, "w") as file:
            file.write(PROBE % call)
        flags = ["-shared", "-fPIC"] + (["-undefined", "dynamic_lookup"] if sys.platform == "darwin" else [])
        try:
            done = subprocess.run(
                [*compiler, *flags, f"-I{sysconfig.get_path('include')}", source, "-o", built],
                capture_output=True,
                timeout=60,
            )
            if done.returncode:
                return False
            return not subprocess.run(
                [sys.executable, "-c", "import probe"], cwd=folder, capture_output=True, timeout=60
            ).returncode
        except (OSError, subprocess.TimeoutExpired):
            return False


class CustomMetadataHook(MetadataHookInterface):
    def update(self, metadata):
        metadata["dependencies"] = ALWAYS + ([ENGINE] if engine_can_be_built() else [])
