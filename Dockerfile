# syntax=docker/dockerfile:1
# Build stage: restores and publishes; nothing of it but the published files is kept.
ARG DOTNET_IMAGES=mcr.microsoft.com/dotnet
FROM ${DOTNET_IMAGES}/sdk:10.0 AS build
WORKDIR /source
# Project files first, so that the restored packages stay in the cache while only code changes.
COPY global.json Directory.Build.props Directory.Packages.props BannedSymbols.txt ./
COPY src/ShopFloor.Domain/ShopFloor.Domain.csproj src/ShopFloor.Domain/
COPY src/ShopFloor.Data/ShopFloor.Data.csproj src/ShopFloor.Data/
COPY src/ShopFloor.Data.Sqlite/ShopFloor.Data.Sqlite.csproj src/ShopFloor.Data.Sqlite/
COPY src/ShopFloor.Data.PostgreSql/ShopFloor.Data.PostgreSql.csproj src/ShopFloor.Data.PostgreSql/
COPY src/ShopFloor.Documents/ShopFloor.Documents.csproj src/ShopFloor.Documents/
COPY src/ShopFloor.Solvers/ShopFloor.Solvers.csproj src/ShopFloor.Solvers/
COPY src/ShopFloor.Application/ShopFloor.Application.csproj src/ShopFloor.Application/
COPY src/ShopFloor.Web/ShopFloor.Web.csproj src/ShopFloor.Web/
RUN dotnet restore src/ShopFloor.Web/ShopFloor.Web.csproj
COPY .editorconfig ./
COPY src/ src/
COPY demo-seed/ demo-seed/
RUN dotnet publish src/ShopFloor.Web/ShopFloor.Web.csproj --no-restore --configuration Release --output /published

FROM ${DOTNET_IMAGES}/aspnet:10.0 AS app
WORKDIR /app
COPY --from=build /published ./
# The image's own unprivileged user; the data folder is the only place it may write to.
RUN mkdir /data && chown "$APP_UID" /data
USER $APP_UID
ENV ASPNETCORE_URLS=http://+:8080 \
    ASPNETCORE_ENVIRONMENT=Production \
    SHOPFLOOR_DATA=/data \
    DOTNET_gcServer=0
VOLUME /data
EXPOSE 8080
# The image has no HTTP client; bash can open the connection itself.
HEALTHCHECK --interval=15s --timeout=5s --start-period=60s --retries=4 \
    CMD ["bash", "-c", "exec 3<>/dev/tcp/127.0.0.1/8080 && printf 'GET /health/ready HTTP/1.1\\r\\nHost: localhost\\r\\nConnection: close\\r\\n\\r\\n' >&3 && head -n 1 <&3 | grep -q ' 200 '"]
ENTRYPOINT ["dotnet", "ShopFloor.Web.dll"]
