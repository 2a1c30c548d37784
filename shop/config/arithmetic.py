"""Tell the linear algebra library to stay on one thread, before NumPy is loaded.

The engine's matrices are small and many; on a busy machine a second thread makes each
of them wait for the other (measured on two cores under load: 0.5 s against 11 s for the
same work). Workers and web threads give the parallelism.
"""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
