# The service alone. Runs with a read-only file system:
#   docker run --read-only --cap-drop ALL -p 8752:8752 lastvolt
FROM python:3.13.9-slim-bookworm AS build
WORKDIR /source
COPY pyproject.toml README.md LICENSE ./
COPY sdk sdk
COPY service service
RUN python -m venv /opt/lastvolt \
    && /opt/lastvolt/bin/pip install --no-cache-dir --no-compile '.[service]' \
    && /opt/lastvolt/bin/python -m compileall -q /opt/lastvolt/lib

FROM python:3.13.9-slim-bookworm
RUN useradd --system --uid 10001 --no-create-home --shell /usr/sbin/nologin lastvolt
COPY --from=build /opt/lastvolt /opt/lastvolt
ENV PATH=/opt/lastvolt/bin:$PATH \
    PYTHONDONTWRITEBYTECODE=1 \
    PYTHONUNBUFFERED=1 \
    LASTVOLT_BIND=0.0.0.0:8752
USER 10001
EXPOSE 8752
HEALTHCHECK --interval=30s --timeout=5s --start-period=10s \
    CMD ["python", "-c", "import urllib.request; urllib.request.urlopen('http://127.0.0.1:8752/readyz', timeout=4)"]
CMD ["gunicorn", "--config", "python:lastvolt_service.gunicorn_conf"]
