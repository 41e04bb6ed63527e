# The service, listening on 8752 as a user without rights, on a file system that may be read-only.
# Who lets others than trusted callers reach it puts the proxy of service/deploy in front.
#   docker build --tag lastvolt .
#   docker run --read-only --cap-drop=ALL --publish 127.0.0.1:8752:8752 lastvolt
# Everything from the package index is pinned, and checked against the hashes of the lock files.
# A release pins the base by digest as well: --build-arg BASE=python:3.11.14-slim-trixie@sha256:…
ARG BASE=python:3.11.14-slim-trixie

FROM ${BASE} AS build
ENV PIP_DISABLE_PIP_VERSION_CHECK=1 \
    PIP_NO_CACHE_DIR=1
# The font that pictures in pixels are written with. Debian keeps the current version alone: a
# pinned one would fail some day, not reproduce.
# hadolint ignore=DL3008
RUN apt-get update \
    && apt-get install --yes --no-install-recommends fonts-dejavu-core \
    && rm -rf /var/lib/apt/lists/*
WORKDIR /build
COPY service/build.lock service/requirements.lock service/
RUN python -m venv --without-pip /opt/lastvolt \
    && pip install --require-hashes --only-binary :all: --requirement service/build.lock \
    && pip --python /opt/lastvolt/bin/python install \
        --require-hashes --only-binary :all: --requirement service/requirements.lock
COPY pyproject.toml README.md LICENSE ./
COPY sdk sdk
COPY service/lastvolt_service service/lastvolt_service
RUN pip wheel --no-build-isolation --no-deps --no-index --wheel-dir dist . \
    && pip --python /opt/lastvolt/bin/python install --no-deps --no-index dist/*.whl \
    && pip --python /opt/lastvolt/bin/python check

FROM ${BASE}
LABEL org.opencontainers.image.title="lastvolt" \
      org.opencontainers.image.description="Automotive DC circuit calculations as a REST service" \
      org.opencontainers.image.licenses="Apache-2.0"
COPY --from=build /usr/share/fonts/truetype/dejavu /usr/share/fonts/truetype/dejavu
COPY --from=build /opt/lastvolt /opt/lastvolt
# One thread of linear algebra a worker, also for what is run beside the service
# (lastvolt_service.blas says why).
# In a container loopback is no one's: who may reach the port is for whoever publishes it to say.
ENV PATH=/opt/lastvolt/bin:$PATH \
    PYTHONDONTWRITEBYTECODE=1 \
    PYTHONUNBUFFERED=1 \
    OPENBLAS_NUM_THREADS=1 \
    LASTVOLT_BIND=0.0.0.0:8752 \
    LASTVOLT_PROBES=127.0.0.1:8753
EXPOSE 8752
# A number, so that Kubernetes can see that it is not root.
USER 65532:65532
WORKDIR /tmp
HEALTHCHECK --interval=10s --timeout=3s --start-period=10s CMD ["python", "-c", "import http.client, os, sys; asked = http.client.HTTPConnection('127.0.0.1', int(os.environ['LASTVOLT_PROBES'].rpartition(':')[2]), timeout=2); asked.request('GET', '/livez'); sys.exit(asked.getresponse().status != 200)"]
CMD ["gunicorn", "--config", "python:lastvolt_service.gunicorn_conf"]
